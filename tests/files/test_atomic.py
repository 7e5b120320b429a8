"""The file is the old one or the new one, whole, whatever the disk does."""

import errno
import os
import stat
import time

import pytest

from chalkfret.files.atomic import LEFT_BEHIND_S, replace_file
from chalkfret.files.disk import Disk
from chalkfret.files.lesson_file import save
from chalkfret.files.trouble import CannotWrite
from chalkfret.model.start import new_lesson

OLD, NEW = b"old", b"new" * 1000


class Refusing(Disk):
    """A disk on which one call fails."""

    def __init__(self, call: str, code: int) -> None:
        self.call, self.code = call, code
        self.calls = 0

    def __getattribute__(self, name):
        own = object.__getattribute__
        found = own(self, name)
        if name == own(self, "__dict__").get("call"):
            self.calls += 1
            raise OSError(own(self, "code"), os.strerror(own(self, "code")))
        return found


class Miserly(Disk):
    """A disk that takes seven bytes at a time."""

    def write(self, file, data):
        return super().write(file, data[:7])


class Full(Disk):
    """A disk that is full after a few bytes."""

    room = 100

    def write(self, file, data):
        if self.room <= 0:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        taken = super().write(file, data[: self.room])
        self.room -= taken
        return taken


@pytest.fixture
def path(tmp_path):
    folder = tmp_path / "lessons"
    folder.mkdir()
    path = folder / "riff.chalkfret"
    path.write_bytes(OLD)
    return path


def alone(path):
    return [file.name for file in path.parent.iterdir()] == [path.name]


def test_a_file_is_replaced(path):
    replace_file(path, NEW)
    assert path.read_bytes() == NEW
    assert alone(path)


def test_a_new_file_has_the_permissions_of_any_new_file(path):
    new, plain = path.with_name("new"), path.with_name("plain")
    plain.touch()
    replace_file(new, NEW)
    assert new.stat().st_mode == plain.stat().st_mode


@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664])
def test_permissions_are_kept(path, mode):
    path.chmod(mode)
    replace_file(path, NEW)
    assert stat.S_IMODE(path.stat().st_mode) == mode


def test_the_target_of_a_link_is_replaced_not_the_link(path, tmp_path):
    link = tmp_path / "link"
    link.symlink_to(path)
    replace_file(link, NEW)
    assert link.is_symlink()
    assert path.read_bytes() == NEW
    assert [file.name for file in tmp_path.iterdir() if "link" in file.name] == ["link"]


def test_a_link_to_nothing_yet_gets_its_target(path, tmp_path):
    link = tmp_path / "link"
    link.symlink_to(path.with_name("later"))
    replace_file(link, NEW)
    assert path.with_name("later").read_bytes() == NEW


@pytest.mark.parametrize("call", ["create", "write", "sync", "copy_permissions", "replace"])
@pytest.mark.parametrize("code", [errno.EIO, errno.ENOSPC, errno.EACCES, errno.EROFS])
def test_a_refusal_leaves_the_old_file_and_nothing_else(path, call, code):
    disk = Refusing(call, code)
    with pytest.raises(OSError, match=os.strerror(code)) as refused:
        replace_file(path, NEW, disk)
    assert refused.value.errno == code
    assert disk.calls == 1
    assert path.read_bytes() == OLD
    assert alone(path)


def test_a_folder_that_cannot_be_synced_is_no_refusal(path):
    replace_file(path, NEW, Refusing("sync_folder", errno.EINVAL))
    assert path.read_bytes() == NEW


def test_short_writes_are_gone_on_with(path):
    replace_file(path, NEW, Miserly())
    assert path.read_bytes() == NEW


def test_a_disk_that_fills_up_leaves_the_old_file(path):
    with pytest.raises(CannotWrite) as refused:
        save(new_lesson(), path, Full())
    assert refused.value.faults[0].code == "file_disk_full"
    assert path.read_bytes() == OLD
    assert alone(path)


def test_a_folder_a_device_and_a_missing_folder_are_refused(path, tmp_path):
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    for target, code in [
        (path.parent, "file_is_folder"),
        (pipe, "file_system"),
        (tmp_path / "nowhere" / "x", "folder_missing"),
        (path / "x", "folder_missing"),
        (tmp_path / ("x" * 300), "file_name_too_long"),
    ]:
        with pytest.raises(CannotWrite) as refused:
            save(new_lesson(), target)
        assert refused.value.faults[0].code == code


def test_a_file_that_may_not_be_written_stays(path):
    class ReadOnly(Disk):  # root may write anything, so the permission is asked of the disk
        def may_write(self, path):
            return False

    with pytest.raises(CannotWrite) as refused:
        save(new_lesson(), path, ReadOnly())
    assert refused.value.faults[0].code == "file_not_allowed"
    assert path.read_bytes() == OLD


def test_what_a_killed_run_left_is_cleared_away(path, monkeypatch):
    class Killed(Disk):
        def replace(self, new, old):
            raise KeyboardInterrupt

        def remove(self, path):
            raise OSError(errno.EIO, "gone")

    with pytest.raises(KeyboardInterrupt):
        replace_file(path, NEW, Killed())
    assert not alone(path)
    replace_file(path, NEW)
    assert not alone(path)  # it might still be in use
    then = time.time() + LEFT_BEHIND_S + 1
    monkeypatch.setattr(time, "time", lambda: then)
    replace_file(path, OLD)
    assert alone(path)
