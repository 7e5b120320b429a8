"""What all tests share: a headless Qt, a private home, and how long properties are tried."""

import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, settings

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

# Slow machines must not fail a property, so no deadline: speed is the bench's business.
_COMMON = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow]}
settings.register_profile("checks", max_examples=100, derandomize=True, database=None, **_COMMON)
settings.register_profile(
    "fuzz",
    max_examples=2_000,
    database=None,
    print_blob=True,
    phases=[Phase.explicit, Phase.generate, Phase.target, Phase.shrink],
    **_COMMON,
)
settings.load_profile(os.environ.get("CHALKFRET_PROFILE", "checks"))


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
