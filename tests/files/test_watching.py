"""The open file is looked at, and what changed it is told once."""

import os
import threading

import pytest

from chalkfret.files.disk import Disk
from chalkfret.files.journal import digest
from chalkfret.files.watching import Seen, Watch


class Told:
    def __init__(self):
        self.seen = []
        self._event = threading.Event()

    def __call__(self, seen):
        self.seen.append(seen)
        self._event.set()

    def wait(self):
        assert self._event.wait(10)
        self._event.clear()
        return self.seen[-1]


class Counting(Disk):
    def __init__(self):
        self.looks = self.reads = 0
        self.looked = threading.Semaphore(0)

    def status(self, path):
        self.looks += 1
        self.looked.release()
        return super().status(path)

    def read(self, path):
        self.reads += 1
        return super().read(path)


@pytest.fixture
def followed(tmp_path):
    path = tmp_path / "riff.chalkfret"
    path.write_bytes(b"one")
    told, disk = Told(), Counting()
    watch = Watch(told, disk, pause_s=0.005)
    watch.follow(path, digest(b"one"))
    yield path, told, watch, disk
    watch.end()
    assert not any(thread.name == "chalkfret watch" for thread in threading.enumerate())


def looks(disk, count=3):
    for _ in range(count):
        assert disk.looked.acquire(timeout=10)


def written(path, data):
    """Replace the file in one step: the watch must not meet it empty."""
    beside = path.with_suffix(".new")
    beside.write_bytes(data)
    beside.replace(path)


def test_a_changed_file_is_told_once(followed):
    path, told, _watch, disk = followed
    looks(disk)
    assert not told.seen
    written(path, b"two")
    assert told.wait() == Seen(path, digest(b"two"))
    looks(disk)
    while disk.looked.acquire(blocking=False):
        pass
    looks(disk)
    assert len(told.seen) == 1
    written(path, b"three")
    assert told.wait() == Seen(path, digest(b"three"))


def test_a_file_is_read_only_where_it_may_have_changed(followed):
    _path, _told, _watch, disk = followed
    looks(disk, 10)
    assert disk.reads == 1


def test_a_touched_file_is_no_news(followed):
    path, told, _watch, disk = followed
    looks(disk)
    os.utime(path, (1, 1))
    while disk.reads < 2:
        looks(disk)
    looks(disk)
    assert not told.seen


def test_a_file_that_vanished_or_was_renamed_is_told(followed):
    path, told, _watch, _disk = followed
    path.rename(path.with_name("other"))
    assert told.wait() == Seen(path, None)


def test_what_is_known_by_now_is_no_news(followed):
    path, told, watch, disk = followed
    watch.rest()
    path.write_bytes(b"mine")
    watch.follow(path, digest(b"mine"))
    looks(disk)
    looks(disk)
    assert not told.seen
