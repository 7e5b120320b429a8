"""The same at fractional scales of the screen, each in a process of its own: Qt reads it once."""

import os
import subprocess
import sys

import pytest


@pytest.mark.parametrize("scale", ["1.25", "1.5", "2"])
def test_every_page_fits_at_a_scale_of_the_screen(scale):
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-p", "no:xdist", "-p", "no:cacheprovider",
         "tests/desk/access/test_fit.py", "-k", "small-100-pseudo or small-200-de"],
        env={**os.environ, "QT_SCALE_FACTOR": scale, "QT_QPA_PLATFORM": "offscreen"},
        capture_output=True, text=True, timeout=300, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout[-4000:]
    assert "2 passed" in done.stdout
