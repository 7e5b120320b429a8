"""What all tests share: a headless Qt, a private home, and how long properties are tried."""

import os
import random
import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, settings

from tests.fuzz import FUZZ_ENDS, FUZZING, SEED

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ["LANGUAGE"] = "en"  # tests read texts, in whatever language the machine speaks

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
