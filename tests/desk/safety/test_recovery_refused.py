"""Whatever a disk refuses while lost work is taken up or let go, the work is still somewhere."""

import os

import pytest

from chalkfret.desk.safety.recovering import _beside, _let_go, _taken
from chalkfret.files.backups import versions
from chalkfret.files.journal import Standing, record
from chalkfret.files.keeper import Journal
from chalkfret.files.lesson_file import load
from chalkfret.files.sessions import Session, lost_work
from chalkfret.files.trouble import FileTrouble
from tests.desk.safety.conftest import LESSON
from tests.desk.safety.test_recovering import WORK
from tests.faults.disks import REFUSALS, Refusing

pytestmark = pytest.mark.faults


def lost_in(folder):
    """Lost work in a state folder of its own, with the lesson file that it belongs to."""
    path = folder / "slate.chalkfret"
    session = Session(folder / "state")
    session.write(record(Standing(WORK, path), 1_700_000_000.0))
    os.close(session._lock)
    (lost,) = lost_work(folder / "state")
    return lost, folder / "state", path


def offered(state):
    found = lost_work(state)
    for one in found:
        one.release()
    return [one.lesson for one in found]


def every_refusal(tmp_path, do):
    """Each call of ``do(folder, disk)`` refused for each reason: the folder, and what was not let
    go of because closing was refused."""
    sound = Refusing()
    (tmp_path / "sound").mkdir()
    do(tmp_path / "sound", sound)
    assert sound.calls
    for at in range(1, len(sound.calls) + 1):
        for name, code in REFUSALS.items():
            folder = tmp_path / f"{at} {name}"
            folder.mkdir()
            disk = Refusing(at, code)
            try:
                do(folder, disk)
                refused = False
            except (OSError, FileTrouble):
                refused = True
            if disk.refused != "close":  # the lock goes with the process then
                yield folder, refused


def test_letting_go(tmp_path):
    def do(folder, disk):
        lost, state, _path = lost_in(folder)
        _let_go(lost, state, disk, None)

    for folder, refused in every_refusal(tmp_path, do):
        state, path = folder / "state", folder / "slate.chalkfret"
        kept = [load(one.path) for one in versions(state, path)]
        assert WORK in [*kept, *offered(state)]
        if not refused:
            assert kept == [WORK]
            assert offered(state) == []


def test_taking_up(tmp_path):
    journals = {}

    def do(folder, disk):
        lost, state, path = lost_in(folder)
        journals[folder] = journal = Journal(state, disk, pause_s=60)
        journal.note(Standing(WORK, path))
        _taken(lost, journal, disk, None)

    for folder, _refused in every_refusal(tmp_path, do):
        journals[folder].end(keep=True)
        assert WORK in offered(folder / "state")
    for journal in journals.values():
        journal.end(keep=True)


@pytest.mark.parametrize("code", REFUSALS.values(), ids=list(REFUSALS))
@pytest.mark.parametrize("at", [1, 2])
def test_comparing(tmp_path, at, code):
    from chalkfret.files.lesson_file import save

    lost, state, path = lost_in(tmp_path)
    save(LESSON, path)
    beside = _beside(lost, Refusing(at, code), None)
    assert beside.ready
    assert beside.saved is None
    assert "cannot be read now" in beside.lines[0]
    assert len(beside.lines) == 2
    lost.release()
    assert offered(state) == [WORK]
