"""Disks that refuse: the n-th call of whatever is done, with each reason a system has."""

import errno
import os
import threading

from chalkfret.files.disk import Disk

CALLS = [name for name in vars(Disk) if not name.startswith("_")]
"""Every call through which the program reads and writes what must not be lost."""

REFUSALS = {
    "disk full": errno.ENOSPC,
    "read only": errno.EROFS,
    "permission denied": errno.EACCES,
    "not allowed": errno.EPERM,
    "input or output error": errno.EIO,
    "folder gone": errno.ENOENT,
    "busy": errno.EBUSY,
    "other drive": errno.EXDEV,
    "name too long": errno.ENAMETOOLONG,
    "stale network file": errno.ESTALE,
}

MAY_FAIL_UNSAID = {"sync_folder", "close", "remove", "remove_folder", "names"}
"""What may go wrong after the file is in its place, or while cleaning up."""


def _through(name):
    def call(self, *args):
        self.before(name)
        return getattr(Disk, name)(self, *args)

    return call


class Refusing(Disk):
    """Refuses its ``at``-th call, and all later ones too where it is ``broken`` for good."""

    def __init__(self, at=0, code=errno.EIO, broken=False):
        self.at, self.code, self.broken = at, code, broken
        self.calls = []

    def before(self, name):
        self.calls.append(name)
        now = len(self.calls)
        if self.at and (now == self.at or (self.broken and now > self.at)):
            raise OSError(self.code, os.strerror(self.code))

    @property
    def refused(self):
        """The call that was refused; "" where it did not come to that."""
        return self.calls[self.at - 1] if 0 < self.at <= len(self.calls) else ""


class Choosing(Refusing):
    """Refuses the calls of one name as long as it is ``on``."""

    on = False

    def __init__(self, name, code):
        super().__init__(code=code)
        self.name = name

    def before(self, name):
        if self.on and name == self.name:
            self.at = len(self.calls) + 1
        super().before(name)


class Hanging(Disk):
    """Its ``at``-th call does not come back before ``go_on`` is set; or every call of a name."""

    def __init__(self, at=0, name=""):
        self.at, self.name = at, name
        self.calls = []
        self.hangs, self.go_on = threading.Event(), threading.Event()

    def before(self, name):
        self.calls.append(name)
        if len(self.calls) == self.at or name == self.name:
            self.hangs.set()
            assert self.go_on.wait(30), "nobody lets the disk go on"


class Short(Disk):
    """Writes a few bytes at a time, and none at all with its ``at``-th write."""

    def __init__(self, at=0):
        self.at, self.writes = at, 0

    def write(self, file, data):
        self.writes += 1
        return 0 if self.writes == self.at else super().write(file, data[:100])


for _name in CALLS:
    setattr(Refusing, _name, _through(_name))
    setattr(Hanging, _name, _through(_name))
