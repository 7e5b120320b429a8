"""Every file call of saving, opening, the journal, recovery and earlier versions refuses once.

Each thing that is done is tried once for each of its calls and each reason a system may have. What
stood on the disk before stays whole, what is in memory stays there, the reason can be said, and
the same thing done again on a sound disk succeeds.
"""

import os
import time
from contextlib import suppress

import pytest

from chalkfret.files.backups import MOST, keep_version, versions
from chalkfret.files.disk import DISK
from chalkfret.files.expected import NOTHING
from chalkfret.files.journal import Standing, digest, read_record, record
from chalkfret.files.keeper import Journal
from chalkfret.files.lesson_file import dumps, loads
from chalkfret.files.saving import open_at, save_over
from chalkfret.files.sessions import FOLDER, RECORD, Session, lost_work, opened_elsewhere
from chalkfret.files.trouble import CannotRead, CannotWrite, system_fault
from chalkfret.words.sentences import sentence
from tests.builder import lesson, section
from tests.faults.disks import CALLS, REFUSALS, Refusing, Short

OLD = lesson(section("A", "q 6:0 3 5 7"))
NEW = lesson(section("A", "q 6:0 3 5 8"))
GONE = {"status", "read"}  # "there is no such file" is an answer: it is written anew
SAID_LATER = {"sync_folder", "names", "remove"}  # after the new file is in its place

pytestmark = pytest.mark.faults


class Case:
    """A folder as it is before, what is done in it, and what must be true afterwards."""

    def __init__(self, folder):
        self.folder = folder
        self.path = folder / "lessons" / "riff.chalkfret"
        self.path.parent.mkdir(parents=True)
        self.state = folder / "state"

    def did(self, disk):
        """Do it; None, or the exception by which it was refused."""
        try:
            self.do(disk)
        except (CannotRead, CannotWrite, OSError) as error:
            return error
        return None

    def litter(self):
        return [path.name for path in self.path.parent.iterdir() if path != self.path]


class SaveOver(Case):
    def __init__(self, folder):
        super().__init__(folder)
        self.path.write_bytes(dumps(OLD))

    def do(self, disk):
        save_over(NEW, self.path, digest(dumps(OLD)), disk)

    def check(self, refusal, call):
        there = self.path.read_bytes()
        if refusal is None:
            assert there == dumps(NEW)
            assert call in {*SAID_LATER, *GONE}
        else:
            assert isinstance(refusal, CannotWrite)
            assert there == dumps(OLD)
        assert call == "remove" or not self.litter()
        assert not save_over(NEW, self.path, digest(there)).was_gone


class SaveNew(Case):
    def do(self, disk):
        save_over(NEW, self.path, NOTHING, disk)

    def check(self, refusal, call):
        if refusal is None:
            assert self.path.read_bytes() == dumps(NEW)
        else:
            assert isinstance(refusal, CannotWrite)
            assert not self.path.exists()
            assert not self.litter()
        with suppress(FileNotFoundError):
            self.path.unlink()
        save_over(NEW, self.path, NOTHING)


class Open(Case):
    def __init__(self, folder):
        super().__init__(folder)
        self.path.write_bytes(dumps(OLD))

    def do(self, disk):
        assert open_at(self.path, disk).lesson == OLD

    def check(self, refusal, call):
        assert isinstance(refusal, CannotRead)
        assert self.path.read_bytes() == dumps(OLD)
        self.do(DISK)


class FirstJournal(Case):
    """The first change in a window."""

    def do(self, disk):
        self.journal = Journal(self.state, disk, pause_s=60)
        self.journal.note(Standing(NEW, self.path))
        if not self.journal.flush():
            raise OSError("not written")

    def check(self, refusal, call):
        if refusal is not None:
            assert self.journal.flush(), "the next try succeeds"
        record = self.journal.folder / RECORD
        assert read_record(record.read_bytes())[1] == dumps(NEW)
        self.journal.end(keep=False)


class NextJournal(Case):
    """A later change: until the new record is there, the last one is."""

    def __init__(self, folder):
        super().__init__(folder)
        self.session = Session(self.state)
        self.session.write(record(Standing(OLD, self.path), 1.0))

    def do(self, disk):
        self.session._disk = disk
        self.session.write(record(Standing(NEW, self.path), 2.0))

    def check(self, refusal, call):
        there = read_record((self.session.folder / RECORD).read_bytes())[1]
        assert there == dumps(OLD if refusal is not None else NEW)
        self.session._disk = DISK
        self.session.write(record(Standing(NEW, self.path), 3.0))
        self.session.end(keep=True)
        (lost,) = lost_work(self.state)
        assert lost.lesson == NEW
        lost.release()


class EndJournal(Case):
    """A window that is closed well: what cannot be cleared away is no lost work later."""

    def do(self, disk):
        self.journal = Journal(self.state, pause_s=60)
        self.journal.note(Standing(path=self.path))
        assert self.journal.flush()
        self.session = self.journal._session
        self.session._disk = disk
        self.journal.end(keep=False)

    def check(self, refusal, call):
        assert refusal is None, "nothing to be said: nothing is lost"
        assert (self.session._lock is None) is True
        if call == "close":
            return  # the lock goes with the process
        assert lost_work(self.state) == ()


class FindLost(Case):
    def __init__(self, folder):
        super().__init__(folder)
        session = Session(self.state)
        session.write(record(Standing(NEW, self.path), 1.0))
        session.end(keep=True)
        clean = Session(self.state)
        clean.write(record(Standing(path=self.path), 1.0))
        clean.end(keep=True)
        self.found = ()

    def do(self, disk):
        self.found = lost_work(self.state, disk=disk)

    def check(self, refusal, call):
        for lost in self.found:
            assert lost.lesson == NEW
            lost.release()
        if call == "close":
            return  # the lock stays with this process, as in one that goes on
        (lost,) = lost_work(self.state)
        assert lost.lesson == NEW
        lost.release()


class RemoveLost(FindLost):
    """The teacher has decided: it goes, or it is offered again."""

    def do(self, disk):
        (lost,) = lost_work(self.state)
        try:
            lost.remove(disk)
        except OSError:
            lost.release()
            raise

    def check(self, refusal, call):
        if call == "close":
            return
        left = lost_work(self.state)
        assert bool(left) == (refusal is not None)
        for lost in left:
            assert lost.lesson == NEW
            lost.release()


class OpenTwice(Case):
    def __init__(self, folder):
        super().__init__(folder)
        self.session = Session(self.state)
        self.session.write(record(Standing(path=self.path), 1.0))

    def do(self, disk):
        opened_elsewhere(self.state, self.path, disk=disk)

    def check(self, refusal, call):
        assert opened_elsewhere(self.state, self.path)
        self.session.end(keep=False)


class KeepVersion(Case):
    """The eleventh version, for which an older one goes."""

    def __init__(self, folder):
        super().__init__(folder)
        for number in range(MOST):
            keep_version(self.state, self.path, b"%d" % number, 1e9 + number * 30 * 86_400)
        self.before = versions(self.state, self.path)

    def do(self, disk):
        keep_version(self.state, self.path, b"new", 1e9 + 400 * 86_400, disk)

    def check(self, refusal, call):
        after = versions(self.state, self.path)
        assert set(self.before) - set(after) <= {self.before[-1]}, "no other is gone"
        assert all(version.path.read_bytes() for version in after)
        if refusal is None:
            assert after[0].path.read_bytes() == b"new"
        self.do(DISK)
        assert len(versions(self.state, self.path)) == MOST


class ListVersions(KeepVersion):
    def do(self, disk):
        self.found = versions(self.state, self.path, disk)

    def check(self, refusal, call):
        assert refusal is not None or self.found == ()  # there is no folder yet, says the disk
        assert versions(self.state, self.path) == self.before


CASES = [
    SaveOver, SaveNew, Open, FirstJournal, NextJournal, EndJournal, FindLost, RemoveLost, OpenTwice,
    KeepVersion, ListVersions,
]  # fmt: skip


@pytest.mark.parametrize("kind", CASES, ids=lambda kind: kind.__name__)
def test_every_call_may_refuse(kind, tmp_path):
    sound = Refusing()
    kind(tmp_path / "sound").do(sound)
    assert sound.calls, "nothing was tried"
    for at in range(1, len(sound.calls) + 1):
        for name, code in REFUSALS.items():
            for broken in (False, True):
                disk = Refusing(at, code, broken)
                case = kind(tmp_path / f"{at} {name} {broken}")
                refusal = case.did(disk)
                assert disk.refused, "the calls are the same each time"
                if refusal is not None:
                    assert said(refusal, case.path)
                if not broken:
                    case.check(refusal, disk.refused)
                elif kind is SaveOver:  # cleaning up fails as well, and what is lost is litter
                    assert case.path.read_bytes() in (dumps(OLD), dumps(NEW))
                    loads(case.path.read_bytes())


def said(refusal, path):
    """What the teacher is told."""
    if isinstance(refusal, OSError):
        return sentence(system_fault(refusal, path))
    return all(sentence(fault) for fault in refusal.faults)


def test_no_call_of_the_disk_is_left_untried(tmp_path):
    tried = set()
    for kind in CASES:
        disk = Refusing()
        kind(tmp_path / kind.__name__).do(disk)
        tried |= set(disk.calls)
    assert tried == set(CALLS)


@pytest.mark.parametrize("at", range(1, 12))
def test_a_disk_that_takes_nothing_any_more_is_a_refusal(tmp_path, at):
    case = SaveOver(tmp_path / "case")
    disk = Short(at)
    refusal = case.did(disk)
    if disk.writes >= at:
        assert isinstance(refusal, CannotWrite)
        assert case.path.read_bytes() == dumps(OLD)
        assert not case.litter()
    else:
        assert case.path.read_bytes() == dumps(NEW)


def test_what_a_refused_clean_up_left_is_cleared_by_a_later_save(tmp_path):
    case = SaveOver(tmp_path / "case")
    sound = Refusing()
    SaveOver(tmp_path / "sound").do(sound)
    at = sound.calls.index("sync") + 1
    case.did(Refusing(at, broken=True))
    (left,) = case.litter()
    then = time.time() - 7200
    os.utime(case.path.parent / left, (then, then))
    case.do(DISK)
    assert not case.litter()


def test_a_state_folder_that_is_a_file_is_said(tmp_path):
    (tmp_path / "state").write_text("in the way")
    journal = Journal(tmp_path / "state", pause_s=60)
    journal.note(Standing(NEW))
    assert not journal.flush()
    journal.end(keep=True)
    with pytest.raises(OSError, match="Not a directory"):
        lost_work(tmp_path / "state")
    assert (tmp_path / "state").read_text() == "in the way"
    assert not (tmp_path / FOLDER).exists()
