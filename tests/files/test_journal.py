"""The journal: what is noted is soon on the disk, and comes back from a window that died."""

import errno
import os
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chalkfret.edits.notes import set_fret
from chalkfret.edits.place import Spot
from chalkfret.files import canonical
from chalkfret.files.canonical import Remembering
from chalkfret.files.disk import Disk
from chalkfret.files.journal import Standing, digest, read_head, read_record, record
from chalkfret.files.keeper import Journal
from chalkfret.files.lesson_file import dumps, loads
from chalkfret.files.sessions import (
    FOLDER,
    LOCK,
    RECORD,
    YOUNG_S,
    Session,
    lost_work,
    opened_elsewhere,
)
from chalkfret.files.trouble import BadFile
from chalkfret.model.start import new_lesson
from tests.builder import lesson, section
from tests.files.anything import sound_lessons

LESSON = lesson(section("A", "q 6:0 3 5 7"))
OTHER = lesson(section("A", "q 6:0 3 5 8"))
PATH = Path("/lessons/Öd & 練.chalkfret")


@pytest.fixture
def state(tmp_path):
    return tmp_path / "state"


@pytest.fixture
def journal(state):
    made = Journal(state, pause_s=0.005, again_s=0.005)
    yield made
    made.end(keep=False)
    assert not any(thread.name == "chalkfret journal" for thread in threading.enumerate())


def soon(check):
    ends = time.monotonic() + 10
    while not check():
        assert time.monotonic() < ends
        time.sleep(0.002)


def died(session):
    """As when its process is gone: the system lets go of the lock."""
    os.close(session._lock)


# Records


@given(sound_lessons)
def test_a_record_gives_the_lesson_back(any_lesson):
    head, body = read_record(record(Standing(any_lesson, PATH, "abc"), 12.5))
    assert loads(body) == any_lesson
    assert body == dumps(any_lesson)
    assert (head.at, head.place, head.saved) == (12.5, PATH, "abc")


@given(st.lists(sound_lessons, max_size=4))
def test_lines_remembered_from_earlier_lessons_change_nothing(lessons):
    lines = Remembering()
    for one in [*lessons, *lessons]:
        assert dumps(one, lines) == dumps(one)
        lines.turn()


def test_after_an_edit_one_chunk_is_written_anew(monkeypatch):
    long = new_lesson(bars=640)
    lines, written = Remembering(), []
    real = canonical.chunk_lines
    monkeypatch.setattr(
        canonical, "chunk_lines", lambda chunk: written.append(chunk) or real(chunk)
    )
    assert len(dumps(long, lines)) > 10_000
    lines.turn()
    written.clear()
    edited = set_fret(long, Spot(0, 300, 0, 0, 3), 7, 5040)
    assert dumps(edited, lines) == dumps(edited, real)
    assert len(written) == 1


def test_a_record_of_a_saved_lesson_has_none():
    head, body = read_record(record(Standing(path=PATH), 1.0))
    assert (body, head.digest) == (b"", None)
    assert read_head(record(Standing(), 1.0)).place is None


def test_a_path_need_not_be_text():
    odd = Path(os.fsdecode(b"/lessons/\xff\n.chalkfret"))
    assert read_head(record(Standing(path=odd), 1.0)).place == odd


def test_a_damaged_record_is_refused_wherever_it_is_cut_or_hit():
    data = record(Standing(LESSON, PATH), 1.0)
    for at in range(0, len(data) - 1, 7):
        with pytest.raises(BadFile):
            read_record(data[:at])
    start = data.index(b"\n") + 1
    for at in range(start, len(data), 31):
        with pytest.raises(BadFile):
            read_record(data[:at] + bytes([data[at] ^ 1]) + data[at + 1 :])


# Sessions


def test_the_work_of_a_living_window_is_not_lost_work(state):
    session = Session(state)
    session.write(record(Standing(LESSON, PATH), 1.0))
    assert lost_work(state) == ()
    died(session)
    (lost,) = lost_work(state)
    assert (lost.lesson, lost.path, lost.at, lost.faults) == (LESSON, PATH, 1.0, ())
    assert lost_work(state) == (), "another window holds it meanwhile"
    lost.release()
    (again,) = lost_work(state)
    again.remove()
    assert lost_work(state) == ()
    assert not list((state / FOLDER).iterdir())


def test_a_second_process_does_not_take_the_work_of_the_first(state):
    """The lock of another process, and its end by a signal that it cannot see coming."""
    code = (
        "import sys; from pathlib import Path; from chalkfret.files.sessions import Session\n"
        "session = Session(Path(sys.argv[1])); session.write(sys.stdin.buffer.read())\n"
        "print('here', flush=True); import time; time.sleep(60)"
    )
    data = record(Standing(LESSON, PATH), 1.0)
    pipe = subprocess.PIPE
    app = str(Path(__file__).parents[2] / "app")
    with subprocess.Popen(
        [sys.executable, "-c", code, str(state)],
        stdin=pipe, stdout=pipe, env={**os.environ, "PYTHONPATH": app},
    ) as process:  # fmt: skip
        process.stdin.write(data)
        process.stdin.close()
        assert process.stdout.readline() == b"here\n"
        assert lost_work(state) == ()
        assert opened_elsewhere(state, PATH)
        process.kill()
        process.wait()
    assert not opened_elsewhere(state, PATH)
    (lost,) = lost_work(state)
    assert lost.lesson == LESSON
    lost.release()


def test_several_lost_sessions_come_newest_first_and_clean_ones_go(state):
    for at, standing in enumerate([Standing(LESSON), Standing(path=PATH), Standing(OTHER, PATH)]):
        session = Session(state)
        session.write(record(standing, float(at)))
        died(session)
    found = lost_work(state)
    assert [one.lesson for one in found] == [OTHER, LESSON]
    assert len(list((state / FOLDER).iterdir())) == 2
    for one in found:
        one.release()


def test_a_damaged_record_is_told_and_kept(state):
    session = Session(state)
    session.write(record(Standing(LESSON, PATH), 1.0)[:-5])
    died(session)
    (lost,) = lost_work(state)
    assert lost.lesson is None
    assert [found.code for found in lost.faults] == ["journal_unreadable"]
    assert (lost.folder / RECORD).exists()
    lost.release()


def test_a_folder_without_a_record_goes_when_it_is_no_longer_young(state):
    session = Session(state)
    died(session)
    assert lost_work(state) == ()
    assert session.folder.exists(), "its window may be just opening"
    then = time.time() - YOUNG_S - 1
    os.utime(session.folder, (then, then))
    assert lost_work(state) == ()
    assert not session.folder.exists()


class NoLocks(Disk):
    def lock(self, path):
        raise OSError(errno.ENOLCK, "no locks here")


def test_where_a_disk_knows_no_locks_the_number_of_the_process_tells(state):
    session = Session(state, NoLocks())
    session.write(record(Standing(LESSON), 1.0))
    assert lost_work(state, disk=NoLocks()) == (), "this process lives"
    ended = subprocess.Popen([sys.executable, "-c", ""])
    ended.wait()
    session.folder.rename(session.folder.with_name(f"{ended.pid}-abc"))
    (lost,) = lost_work(state, disk=NoLocks())
    assert lost.lesson == LESSON


def test_lost_work_that_another_window_offers_is_no_open_lesson(state):
    ended = subprocess.Popen([sys.executable, "-c", ""])
    ended.wait()
    session = Session(state)
    session.write(record(Standing(LESSON, PATH), 1.0))
    died(session)
    session.folder.rename(session.folder.with_name(f"{ended.pid}-abc"))
    (lost,) = lost_work(state)
    assert not opened_elsewhere(state, PATH)
    lost.release()


# The journal


def test_a_change_is_soon_on_the_disk(journal, state):
    journal.note(Standing(LESSON, PATH))
    soon(lambda: journal.folder is not None and (journal.folder / RECORD).exists())
    assert read_record((journal.folder / RECORD).read_bytes())[1] == dumps(LESSON)
    journal.note(Standing(OTHER, PATH))
    soon(lambda: read_record((journal.folder / RECORD).read_bytes())[1] == dumps(OTHER))
    journal.note(Standing(path=PATH))
    soon(lambda: read_record((journal.folder / RECORD).read_bytes())[1] == b"")


def test_many_changes_are_one_write(state):
    class Counting(Disk):
        writes = 0

        def replace(self, new, old):
            self.writes += 1
            super().replace(new, old)

    disk = Counting()
    journal = Journal(state, disk, pause_s=0.2)
    for _ in range(1000):
        journal.note(Standing(LESSON))
    journal.note(Standing(OTHER))
    soon(lambda: disk.writes == 1)
    assert read_record((journal.folder / RECORD).read_bytes())[1] == dumps(OTHER)
    journal.end(keep=False)
    assert disk.writes == 1


def test_flush_writes_at_once_in_whichever_thread(state):
    journal = Journal(state, pause_s=60)
    journal.note(Standing(LESSON))
    assert journal.flush()
    assert read_record((journal.folder / RECORD).read_bytes())[1] == dumps(LESSON)
    journal.note(Standing(OTHER))
    thread = threading.Thread(target=journal.flush)
    thread.start()
    thread.join()
    assert read_record((journal.folder / RECORD).read_bytes())[1] == dumps(OTHER)
    journal.end(keep=False)
    assert journal.folder is None


def test_flush_never_raises_and_never_waits_for_long(state):
    go_on = threading.Event()

    class Hanging(Disk):
        def sync(self, file):
            go_on.wait(20)

    journal = Journal(state, Hanging(), pause_s=0)
    journal.note(Standing(LESSON))
    soon(lambda: journal._writing.locked())
    began = time.monotonic()
    assert not journal.flush(0.05)
    journal.end(keep=True, seconds=0.05)
    assert time.monotonic() - began < 5
    go_on.set()
    soon(lambda: not any(one.name == "chalkfret journal" for one in threading.enumerate()))


def test_an_ended_journal_leaves_nothing_or_the_work(state):
    journal = Journal(state, pause_s=60)
    journal.note(Standing(LESSON))
    journal.end(keep=True)
    (lost,) = lost_work(state)
    assert lost.lesson == LESSON
    lost.remove()
    journal.note(Standing(OTHER))
    assert journal.flush()
    journal.end(keep=False)
    assert lost_work(state) == ()
    assert not list((state / FOLDER).iterdir())


def test_trouble_is_told_once_and_its_end_too(state):
    told = []

    class Full(Disk):
        full = True

        def write(self, file, data):
            if self.full:
                raise OSError(errno.ENOSPC, "full")
            return super().write(file, data)

    disk = Full()
    journal = Journal(state, disk, pause_s=0.002, again_s=0.002, troubled=told.append)
    journal.note(Standing(LESSON))
    soon(lambda: told)
    time.sleep(0.02)
    assert [found.code for found in told] == ["file_disk_full"]
    disk.full = False
    soon(lambda: len(told) == 2)
    assert told[1] is None
    assert read_record((journal.folder / RECORD).read_bytes())[1] == dumps(LESSON)
    journal.end(keep=False)


def test_a_folder_that_was_cleared_away_is_made_again(journal):
    journal.note(Standing(LESSON))
    soon(lambda: journal.folder is not None and (journal.folder / RECORD).exists())
    first = journal.folder
    for name in (RECORD, LOCK):
        (first / name).unlink()
    first.rmdir()
    journal.note(Standing(OTHER))
    soon(lambda: journal.folder != first and (journal.folder / RECORD).exists())
    assert read_record((journal.folder / RECORD).read_bytes())[1] == dumps(OTHER)


def test_a_lesson_that_cannot_be_written_is_told(state):
    from msgspec.structs import replace

    told = []
    broken = replace(LESSON, head=replace(LESSON.head, title="half \ud83c"))
    journal = Journal(state, pause_s=0.002, troubled=told.append)
    journal.note(Standing(broken))
    soon(lambda: told)
    assert told[0].code == "text_broken"
    journal.end(keep=False)


def test_digests_tell_files_apart():
    assert digest(b"a") != digest(b"b")
