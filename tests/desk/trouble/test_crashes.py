"""A crash leaves a trace that the next start mentions; any other end leaves nothing."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from chalkfret.desk.trouble import crashes


@pytest.fixture
def folder(tmp_path):
    return tmp_path / "state"


_RUN = """
import sys, time
from pathlib import Path
from chalkfret.desk.trouble import crashes
file = crashes.begin(Path(sys.argv[1]))
print("ready", flush=True)
{then}
file.close()
"""


def run(folder, then):
    return subprocess.Popen(
        [sys.executable, "-c", _RUN.format(then=then), str(folder)],
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
    )


def end(process):
    process.stdout.readline()
    process.wait(20)
    process.stdout.close()


def test_a_crash_is_told_once_with_paths_cut(folder):
    end(run(folder, "import ctypes; ctypes.string_at(0)"))
    trace = crashes.left_behind(folder)
    assert "Segmentation fault" in trace or "access violation" in trace
    assert "python/ctypes/__init__.py, line" in trace
    assert str(folder) not in trace
    assert str(Path(sys.executable).parent) not in trace
    assert crashes.left_behind(folder) == ""
    assert list(folder.iterdir()) == []


def test_a_good_end_leaves_nothing(folder):
    end(run(folder, "pass"))
    assert list(folder.iterdir()) == []


@pytest.mark.skipif(os.name == "nt", reason="there is no such signal")
def test_a_kill_leaves_nothing_to_tell(folder):
    process = run(folder, "time.sleep(60)")
    process.stdout.readline()
    os.kill(process.pid, signal.SIGKILL)
    process.wait(20)
    process.stdout.close()
    assert len(list(folder.iterdir())) == 1
    assert crashes.left_behind(folder) == ""
    assert list(folder.iterdir()) == []


def test_a_run_that_goes_on_is_left_alone(folder):
    process = run(folder, "sys.stdin.read()" if os.name == "nt" else "time.sleep(60)")
    process.stdout.readline()
    try:
        assert crashes.left_behind(folder) == ""
        assert len(list(folder.iterdir())) == 1
    finally:
        process.kill()
        process.wait(20)
        process.stdout.close()


def test_a_folder_that_cannot_be_written_keeps_nobody_from_working(folder):
    folder.mkdir()
    (folder / "file").write_text("")
    assert crashes.begin(folder / "file") is None
    assert crashes.left_behind(folder / "file") == ""
    assert crashes.left_behind(folder / "not there") == ""


def test_the_window_says_it(troubled, catcher):
    from chalkfret.desk.trouble.report import report

    troubled.telling.tell_of_crash("")
    assert troubled.telling._bar is None
    troubled.telling.tell_of_crash("Fatal Python error: Segmentation fault")
    assert "broke off the last time" in troubled.telling.bar.text
    assert "Segmentation fault" in report(catcher)


@pytest.mark.slow
def test_the_program_itself_leaves_a_trace_and_mentions_it_at_its_next_start(private_home):
    """The real program, crashed by a signal of its own making."""
    script = """
import os, signal, sys
from pathlib import Path
from PySide6.QtCore import QTimer
from chalkfret.desk import app
from chalkfret.desk.window import Window
from chalkfret.desk.trouble.telling import Telling
def see(self, trace):
    print("trace:", trace, flush=True)
    if {crash}:
        os.kill(os.getpid(), signal.SIGSEGV)
    self._window.close()
Telling.tell_of_crash = see
sys.exit(app.main(None))
"""
    ends = []
    for crash in (True, False, False):
        done = subprocess.run(
            [sys.executable, "-c", script.format(crash=crash)],
            capture_output=True,
            text=True,
            timeout=60,
            check=False,
        )
        ends.append((done.returncode, "Fatal Python error" in done.stdout))
    assert ends[0][0] != 0
    assert ends[1:] == [(0, True), (0, False)]
