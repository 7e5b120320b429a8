"""What only a process of its own shows: its imports, its pipes, its signals, its terminal."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from chalkfret.files.lesson_file import save
from chalkfret.model.start import new_lesson
from tests.builder import lesson, section

APP = Path(__file__).parents[2] / "app"


def started(*words, **more):
    env = {**os.environ, "PYTHONPATH": str(APP), **more.pop("env", {})}
    return subprocess.Popen(
        [sys.executable, "-m", "chalkfret", *map(str, words)],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=env, **more,
    )  # fmt: skip


def done(*words, **more):
    process = started(*words, **more)
    out, err = process.communicate(timeout=60)
    assert b"Traceback" not in err
    return process.returncode, out, err


@pytest.fixture
def riff(tmp_path):
    path = tmp_path / "riff.chalkfret"
    save(lesson(section("A", "q 6:0 | " * 500 + "q 0"), title="♯"), path)
    return path


@pytest.mark.parametrize("words", [["--help"], ["--version"], ["check"], ["schema"]])
def test_a_start_imports_nothing_slow(words, riff):
    words = [*words, str(riff)] if words == ["check"] else words
    code = (
        "import sys; from chalkfret.cli import main; main(sys.argv[1:]); "
        "slow = {'music21', 'mido', 'PySide6', 'numpy', 'pypdf'} & set(sys.modules); "
        "assert not slow, slow"
    )
    env = {**os.environ, "PYTHONPATH": str(APP)}
    subprocess.run(
        [sys.executable, "-c", code, *words], check=True, env=env, stdout=subprocess.DEVNULL
    )


@pytest.mark.parametrize("words", [["explain", "--json"], ["schema"], ["export", "--help"]])
def test_a_reader_that_goes_away_is_no_fault(riff, words):
    process = started(*words, *([riff] if words[0] == "explain" else []))
    process.stdout.read(10)
    process.stdout.close()
    assert process.wait(60) == 0
    assert process.stderr.read() == b""
    process.stderr.close()


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full here")
def test_output_that_has_no_room_is_said(riff):
    with Path("/dev/full").open("wb") as full:
        command = [sys.executable, "-m", "chalkfret", "explain", str(riff)]
        env = {**os.environ, "PYTHONPATH": str(APP)}
        result = subprocess.run(command, stdout=full, stderr=subprocess.PIPE, env=env, check=False)
    assert result.returncode == 2
    assert result.stderr.startswith(b"The answer could not be printed: ")
    assert result.stderr.count(b"\n") == 1


def test_an_output_that_is_closed_is_no_fault(riff):
    command = f"{sys.executable} -m chalkfret check '{riff}' >&-"
    env = {**os.environ, "PYTHONPATH": str(APP)}
    result = subprocess.run(["sh", "-c", command], capture_output=True, env=env, check=False)
    assert (result.returncode, result.stderr) == (0, b"")


def test_an_interrupt_ends_quietly(tmp_path):
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    slow = tmp_path / "sitecustomize.py"  # so that the command can be met in the middle of its work
    slow.write_text(
        "import chalkfret.files.lesson_file as files, time\n"
        f"def load(path): open({str(pipe)!r}, 'w').close(); time.sleep(60)\n"
        "files.load = load\n"
    )
    process = started("check", "x", env={"PYTHONPATH": f"{APP}:{tmp_path}"})
    pipe.open().close()  # waits until the command is at work
    time.sleep(0.05)
    process.send_signal(signal.SIGINT)
    out, err = process.communicate(timeout=60)
    assert (process.returncode, out, err) == (130, b"", b"")


def test_a_terminal_without_musical_signs(riff):
    code, out, err = done("explain", riff, env={"PYTHONIOENCODING": "ascii", "LC_ALL": "C"})
    assert (code, err) == (0, b"")
    assert out.startswith(b"\\u266f")


def test_a_file_name_that_is_no_text(tmp_path):
    odd = os.fsencode(tmp_path) + b"/\xff.chalkfret"
    save(new_lesson(), Path(os.fsdecode(odd)))
    export = ["export", odd, "--to", tmp_path, "--as", "midi"]
    for words in (["check", odd], ["check", odd, "--json"], export, [*export, "--json"]):
        process = started(*map(os.fsdecode, words))
        out, err = process.communicate(timeout=60)
        assert (process.returncode, err) == (0, b"")
        assert b"\\udcff" in out


def test_open_without_a_display_says_so():
    bare = {name: value for name, value in os.environ.items() if "DISPLAY" not in name}
    bare = {**bare, "PYTHONPATH": str(APP), "QT_QPA_PLATFORM": "xcb"}
    result = subprocess.run(
        [sys.executable, "-m", "chalkfret", "open"],
        env=bare,
        capture_output=True,
        timeout=60,
        check=False,
    )
    assert result.returncode == 2
    assert b"There is no display to open a window on" in result.stderr
    assert result.stderr.count(b"\n") == 1
