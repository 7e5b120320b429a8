"""A save replaces the file that was opened, and no other."""

import json

import pytest

from chalkfret.files.expected import ANYTHING, NOTHING
from chalkfret.files.journal import digest
from chalkfret.files.lesson_file import dumps, load, save
from chalkfret.files.saving import FileDiffers, open_at, save_over
from chalkfret.files.trouble import CannotWrite
from tests.builder import lesson, section

ONE = lesson(section("A", "q 6:0 3 5 7"))
TWO = lesson(section("A", "q 6:0 3 5 8"))
THREE = lesson(section("A", "q 6:0 3 5 9"))


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "riff.chalkfret"
    save(ONE, path)
    return path


def test_the_file_that_was_opened_is_replaced_and_given_back(path):
    opened = open_at(path)
    assert opened.lesson == ONE
    saved = save_over(TWO, path, opened.digest)
    assert load(path) == TWO
    assert saved.replaced == dumps(ONE)
    assert saved.digest == digest(path.read_bytes())
    assert not saved.was_gone
    assert save_over(THREE, path, saved.digest).replaced == dumps(TWO)


@pytest.mark.parametrize("expected", [digest(dumps(ONE)), NOTHING])
def test_another_file_is_not_touched_unasked(path, expected):
    save(TWO, path)
    with pytest.raises(FileDiffers) as differs:
        save_over(THREE, path, expected)
    assert load(path) == TWO
    assert differs.value.found == digest(dumps(TWO))
    assert save_over(THREE, path, differs.value.found).replaced == dumps(TWO)


def test_the_teacher_may_say_that_anything_goes(path):
    path.write_bytes(b"something else")
    assert save_over(TWO, path, ANYTHING).replaced == b"something else"


def test_the_same_bytes_are_no_difference(path):
    assert save_over(ONE, path, NOTHING).replaced is None


def test_a_file_that_vanished_is_written_anew_and_that_is_known(path):
    known = open_at(path).digest
    path.unlink()
    assert save_over(TWO, path, known).was_gone
    assert load(path) == TWO
    path.unlink()
    assert not save_over(TWO, path, NOTHING).was_gone


@pytest.mark.parametrize("expected", [ANYTHING, NOTHING, "known"])
def test_a_lesson_of_a_newer_version_is_never_rewritten(path, expected):
    tree = json.loads(path.read_bytes())
    tree |= {"version": 2, "what_we_do_not_know": [1, 2, 3]}
    newer = json.dumps(tree).encode()
    path.write_bytes(newer)
    with pytest.raises(CannotWrite) as refused:
        save_over(TWO, path, digest(newer) if expected == "known" else expected)
    assert refused.value.faults[0].code == "file_newer_there"
    assert path.read_bytes() == newer
