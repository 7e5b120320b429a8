"""Hand-outs made beside the window, with everything that can go wrong on the way."""

import errno
import os
import random
import signal
import threading
import time
from pathlib import Path

import pytest
from msgspec.structs import replace

from chalkfret.desk import making
from chalkfret.desk.making import MakerFailed, make_files
from chalkfret.files.export import Kind, Request, plan
from chalkfret.words.sentences import sentence
from tests.desk.two_guitars import two_guitars

_FAULTY = """
import errno, os, signal, time
from chalkfret.desk import making_child
from chalkfret.files.disk import Disk

class Faulty(making_child.NamingDisk):
    {method}

making_child.NamingDisk = Faulty
making_child.child()
"""


def child_with(method):
    return _FAULTY.format(method=method)


def nothing(*_step):
    return None


def never():
    return False


def planned(folder, count=3):
    speeds = [1.0, *(0.5 + number / 1000 for number in range(count - 1))]
    return [
        one
        for speed in speeds
        for one in plan(two_guitars(), "x", Request(folder, (Kind.MIDI,), speed=speed))
    ]


def in_folder(folder):
    return sorted(path.name for path in folder.iterdir() if path.name != "home")


@pytest.mark.faults
@pytest.mark.parametrize(
    ("call", "code", "words"),
    [
        ("make_folder(self, folder)", errno.ENOSPC, "no room left"),
        ("make_folder(self, folder)", errno.EACCES, "does not let it be made"),
        ("make_folder(self, folder)", errno.EROFS, "nothing can be written"),
        ("status(self, path)", errno.EACCES, "allow"),
        ("status(self, path)", errno.EIO, "the system says"),
        ("create(self, path)", errno.ENOSPC, "no room left"),
        ("create(self, path)", errno.EACCES, "allow"),
        ("create(self, path)", errno.EROFS, "nothing can be written"),
        ("create(self, path)", errno.ENOENT, "no file"),
        ("write(self, file, data)", errno.ENOSPC, "no room left"),
        ("write(self, file, data)", errno.EDQUOT, "no room left"),
        ("write(self, file, data)", errno.EIO, "the system says"),
        ("sync(self, file)", errno.EIO, "the system says"),
        ("sync(self, file)", errno.ENOSPC, "no room left"),
        ("close(self, file)", errno.EIO, "the system says"),
        ("replace(self, new, old)", errno.EACCES, "allow"),
        ("replace(self, new, old)", errno.EXDEV, "the system says"),
        ("replace(self, new, old)", errno.ENOENT, "no file"),
    ],
)
def test_a_refusal_is_a_sentence_and_the_other_files_are_made(
    tmp_path, monkeypatch, call, code, words
):
    """Each call of the disk refuses for the second file only."""
    name = call.partition("(")[0]
    arguments = call.partition("(")[2].rstrip(")").removeprefix("self, ")
    method = f"""
    files = 0
    def may_write(self, path):
        return True
    def make_folder(self, folder):
        Faulty.files += 1
        return self.guarded("make_folder", folder)
    def guarded(self, name, *arguments):
        if name == "{name}" and Faulty.files == 2:
            if name == "close":
                os.close(*arguments)
            raise OSError({code}, os.strerror({code}))
        return getattr(super(), name)(*arguments)
"""
    if name != "make_folder":
        method += f"""
    def {call}:
        return self.guarded("{name}", {arguments})
"""
    monkeypatch.setattr(making, "_CHILD", child_with(method.strip()))
    old = tmp_path / "x-x0.5.mid"
    old.write_bytes(b"what stood there before")
    results = make_files(planned(tmp_path), nothing, never)
    assert [bool(result.faults) for result in results] == [False, True, False]
    said = sentence(results[1].faults[0])
    assert words in said.lower()
    assert old.read_bytes() == b"what stood there before"
    assert in_folder(tmp_path) == ["x-x0.5.mid", "x-x0.501.mid", "x.mid"]
    assert all(path.stat().st_size > 20 for path in tmp_path.glob("*.mid"))


@pytest.mark.faults
def test_a_short_write_goes_on_with_the_rest(tmp_path, monkeypatch):
    method = "def write(self, file, data): return super().write(file, data[:7])"
    whole = make_files(planned(tmp_path / "whole", 1), nothing, never)
    monkeypatch.setattr(making, "_CHILD", child_with(method))
    short = make_files(planned(tmp_path / "short", 1), nothing, never)
    assert short[0].size == whole[0].size
    assert (tmp_path / "short" / "x.mid").stat().st_size == whole[0].size


@pytest.mark.faults
def test_a_folder_that_goes_in_the_middle_is_a_sentence(tmp_path, monkeypatch):
    method = """
    def create(self, path):
        if len(list(path.parent.iterdir())) == 1:
            import shutil
            shutil.rmtree(path.parent)
        return super().create(path)
"""
    monkeypatch.setattr(making, "_CHILD", child_with(method.strip()))
    results = make_files(planned(tmp_path / "out"), nothing, never)
    assert [bool(result.faults) for result in results] == [False, True, False]
    assert "there is no file" in sentence(results[1].faults[0]).lower()


@pytest.mark.faults
@pytest.mark.parametrize("where", ["create", "write", "sync", "replace"])
def test_a_child_that_is_killed_takes_one_file_with_it(tmp_path, monkeypatch, where):
    method = f"""
    def {where}(self, *arguments):
        if Faulty.mark.exists():
            return super().{where}(*arguments)
        if len(list(Faulty.mark.parent.glob("out/*.mid"))) == 1:
            Faulty.mark.touch()
            if "{where}" == "write":
                super().write(arguments[0], arguments[1][:9])
            os.kill(os.getpid(), signal.SIGKILL)
        return super().{where}(*arguments)
    from pathlib import Path
    mark = Path({str(tmp_path / "killed")!r})
"""
    monkeypatch.setattr(making, "_CHILD", child_with(method.strip()))
    results = make_files(planned(tmp_path / "out", 4), nothing, never)
    assert [bool(result.faults) for result in results] == [False, True, False, False]
    assert "by a fault of the program" in sentence(results[1].faults[0])
    assert in_folder(tmp_path / "out") == ["x-x0.501.mid", "x-x0.502.mid", "x.mid"]


@pytest.mark.faults
@pytest.mark.parametrize("where", ["make_folder", "create", "write", "sync", "replace"])
def test_a_drive_that_hangs_can_be_cancelled(tmp_path, monkeypatch, where):
    method = f"def {where}(self, *arguments): time.sleep(60)"
    monkeypatch.setattr(making, "_CHILD", child_with(method))
    begun, stop = threading.Event(), threading.Event()

    def wait_a_little():
        begun.wait(30)
        time.sleep(0.3)
        stop.set()

    waiting = threading.Thread(target=wait_a_little)
    waiting.start()
    began = time.monotonic()
    results = make_files(planned(tmp_path), lambda *_step: begun.set(), stop.is_set)
    waiting.join()
    assert results == ()
    assert time.monotonic() - began < 20
    assert in_folder(tmp_path) == []


@pytest.mark.faults
def test_cancelling_at_any_moment_leaves_whole_files_only(tmp_path):
    draw = random.Random(7)
    for number in range(12):
        folder = tmp_path / str(number)
        folder.mkdir()
        files = planned(folder, 30)
        ends = time.monotonic() + draw.uniform(0.0, 1.2)
        results = make_files(files, nothing, lambda ends=ends: time.monotonic() > ends)
        made = {result.output.path.name: result.size for result in results if not result.faults}
        assert {path.name: path.stat().st_size for path in folder.iterdir()} == made
        for path in folder.iterdir():
            assert path.read_bytes().startswith(b"MThd")


@pytest.mark.faults
def test_a_child_that_is_killed_at_any_moment_leaves_whole_files_only(tmp_path, monkeypatch):
    """The system may end it whenever memory runs short; the rest is made by another one."""
    draw, processes = random.Random(8), []
    real = making.subprocess.Popen

    def popen(*arguments, **more):
        process = real(*arguments, **more)
        processes.append(process)
        if len(processes) % 2:
            wait = draw.uniform(0.3, 1.0)
            killer = threading.Timer(wait, lambda: _kill(process))
            killer.start()
            killers.append(killer)
        return process

    killers = []
    monkeypatch.setattr(making.subprocess, "Popen", popen)
    for number in range(6):
        processes.clear()
        folder = tmp_path / str(number)
        folder.mkdir()
        try:
            results = make_files(planned(folder, 25), nothing, never)
        except MakerFailed:  # killed before it could begin
            results = ()
        for killer in killers:
            killer.cancel()
            killer.join()
        whole = {path.name for path in folder.iterdir()}
        assert whole >= {one.output.path.name for one in results if not one.faults}
        assert all(path.read_bytes().startswith(b"MThd") for path in folder.iterdir())
        assert not list(folder.glob(".*"))


def _kill(process):
    if process.poll() is None:
        os.kill(process.pid, signal.SIGKILL)


def test_a_fault_of_the_program_takes_one_file_with_it(tmp_path):
    files = planned(tmp_path)
    files[1] = replace(files[1], kind="no kind at all")
    results = make_files(files, nothing, never)
    assert [bool(result.faults) for result in results] == [False, True, False]
    assert results[1].faults[0].code == "export_broken"


@pytest.mark.parametrize("child", ["print('words that are no message')", "", "raise SystemExit(3)"])
def test_a_process_that_can_do_nothing_is_told(tmp_path, monkeypatch, child):
    monkeypatch.setattr(making, "_CHILD", child)
    with pytest.raises(MakerFailed):
        make_files(planned(tmp_path), nothing, never)


def test_nothing_is_begun_after_a_cancel(tmp_path):
    assert make_files(planned(tmp_path), nothing, lambda: True) == ()
    assert not list(Path(tmp_path).glob("*.mid"))
