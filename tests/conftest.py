"""What all tests share: a headless Qt, a private home, and how long properties are tried."""

import gc
import os
import random
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, settings

from tests.fuzz import FUZZ_ENDS, FUZZING, SEED

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

# Slow machines must not fail a property, so no deadline: speed is the bench's business.
_COMMON = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow]}
settings.register_profile("checks", max_examples=100, derandomize=True, database=None, **_COMMON)
settings.register_profile(
    "fuzz",
    max_examples=500,
    database=None,
    print_blob=True,
    phases=[Phase.explicit, Phase.generate, Phase.target, Phase.shrink],
    **_COMMON,
)
settings.load_profile("fuzz" if FUZZING else "checks")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """A round of fuzzing may be cut short, so each takes the tests in an order of its own."""
    if FUZZING:
        items.sort(key=lambda item: random.Random(f"{SEED} {item.nodeid}").random())


def pytest_runtest_setup(item: pytest.Item) -> None:
    """What has not begun when the minutes of a fuzzing are over is left for another one."""
    if FUZZING and time.time() > FUZZ_ENDS:
        pytest.skip("the minutes are over")


@pytest.fixture(autouse=True)
def private_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """No test reads or writes the settings, documents or caches of who runs it."""
    home = tmp_path / "home"
    home.mkdir()
    monkeypatch.setenv("HOME", str(home))
    for name, folder in [
        ("XDG_CONFIG_HOME", ".config"),
        ("XDG_DATA_HOME", ".local/share"),
        ("XDG_STATE_HOME", ".local/state"),
        ("XDG_CACHE_HOME", ".cache"),
    ]:
        monkeypatch.setenv(name, str(home / folder))
    return home


@pytest.fixture(autouse=True)
def nothing_left_running() -> Iterator[None]:
    """A test of the window leaves no window, no running timer and no thread behind."""
    before = _running() if _window_in_use() else set()
    threads = set(threading.enumerate())
    yield
    if not _window_in_use():
        return
    from PySide6.QtCore import QCoreApplication, QEvent, QThreadPool

    assert QThreadPool.globalInstance().waitForDone(5_000), "a worker is still running"
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    if _running() - before:
        gc.collect()  # a window in a reference cycle is left for Python to find, not leaked
    left = _running() - before
    assert not left, f"left behind: {', '.join(sorted(what for _, what in left))}"
    still = {thread.name for thread in set(threading.enumerate()) - threads if thread.is_alive()}
    assert not still, f"threads left behind: {still}"


def _window_in_use() -> bool:
    widgets = sys.modules.get("PySide6.QtWidgets")
    return widgets is not None and widgets.QApplication.instance() is not None


def _running() -> set[tuple[int, str]]:
    """All top-level widgets and all timers that run, each by its identity and a description."""
    from PySide6.QtCore import QTimer
    from PySide6.QtWidgets import QApplication
    from shiboken6 import Shiboken

    found = [
        (id(widget), f"{type(widget).__name__} {widget.objectName()!r}")
        for widget in QApplication.topLevelWidgets()
    ]
    for each in gc.get_objects():
        if isinstance(each, QTimer) and Shiboken.isValid(each) and each.isActive():
            owner = type(each.parent()).__name__
            found.append((id(each), f"a running timer of {owner}"))
    return set(found)
