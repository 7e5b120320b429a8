"""The document: undo steps are values, and views get the value before and after."""

import weakref

import pytest

from chalkfret.desk.document import Document
from chalkfret.edits import notes, sections
from chalkfret.edits.place import Spot
from chalkfret.model import QUARTER
from chalkfret.model.start import new_lesson
from tests.builder import lesson, section

SPOT = Spot(0, 0, 0, 0, 6)


@pytest.fixture
def document(qapp):
    made = Document(lesson(section("A", "q 6:0 3"), section("B", "q 6:5")))
    yield made
    made.deleteLater()


def test_an_edit_is_told_with_both_values_and_undone_by_putting_the_first_back(document):
    told = []
    document.changed.connect(lambda before, after: told.append((before, after)))
    first = document.lesson
    assert document.attempt("Set a fret", lambda one: notes.set_fret(one, SPOT, 7, QUARTER))
    second = document.lesson
    document.undo_stack.undo()
    assert document.lesson is first
    document.undo_stack.redo()
    assert document.lesson is second
    assert [(one is first, two is second) for one, two in told] == [
        (True, True), (False, False), (True, True),
    ]  # fmt: skip


def test_nothing_changed_is_no_step(document):
    assert not document.attempt("Nothing", lambda one: one)
    assert document.undo_stack.count() == 0


def test_steps_with_an_equal_key_become_one_with_the_last_text(document):
    first = document.lesson
    for times in (2, 3, 4):
        document.attempt(
            f"Play it {times} times",
            lambda one, times=times: sections.set_head(one, 0, times=times),
            merge="times",
        )
    assert document.undo_stack.count() == 1
    assert document.undo_stack.undoText() == "Play it 4 times"
    document.undo_stack.undo()
    assert document.lesson is first


def test_other_keys_and_a_save_between_keep_steps_apart(document, tmp_path):
    for merge in ("a", "b", None, None):
        times = document.lesson.sections[0].head.times + 1
        document.attempt(
            "More", lambda one, times=times: sections.set_head(one, 0, times=times), merge=merge
        )
    assert document.undo_stack.count() == 4
    document.attempt("Name", lambda one: sections.set_head(one, 0, name="x"), merge="name")
    document.saved_as(tmp_path / "a.chalkfret")
    document.attempt("Name", lambda one: sections.set_head(one, 0, name="xy"), merge="name")
    assert document.dirty, "the value on disk stays a step of its own"
    document.undo_stack.undo()
    assert not document.dirty
    assert document.lesson.sections[0].head.name == "x"


def test_a_refused_edit_is_said_and_changes_nothing(document):
    said = []
    document.refused.connect(said.append)
    assert not document.attempt("Fret", lambda one: notes.set_fret(one, SPOT, 99, QUARTER))
    assert "99" in said[0]
    assert not document.dirty


def test_the_section_stays_one_that_is_there(document):
    document.section = 1
    document.attempt("Delete", lambda one: sections.delete(one, 1))
    assert document.section == 0


def test_another_lesson_has_nothing_to_undo(document, tmp_path):
    document.attempt("Fret", lambda one: notes.set_fret(one, SPOT, 9, QUARTER))
    document.section = 1
    document.replace(new_lesson(), tmp_path / "b.chalkfret")
    assert (document.dirty, document.section) == (False, 0)
    assert not document.undo_stack.canUndo()


def test_old_steps_hold_no_lessons_and_lead_to_equal_ones_all_the_same(qapp):
    """Steps that change one bar, more of them, a section's head, and the number of sections."""
    document = Document(lesson(section("A", " | ".join(["q 6:0 3"] * 70)), section("B", "q 6:5")))
    seen = [document.lesson]
    held = []
    for each in range(400):
        spot = Spot(0, each % 70, 0, 0, 6)
        if each % 50 == 20:
            document.attempt("Head", lambda one, each=each: sections.set_head(one, 0, times=each))
        elif each % 50 == 40:
            document.attempt("Both", lambda one: sections.duplicate(one, 0))
        else:
            document.attempt(
                "Set a fret",
                lambda one, spot=spot, each=each: notes.set_fret(one, spot, 4 + each % 9, QUARTER),
            )
        if document.lesson is not seen[-1]:
            seen.append(document.lesson)
            held.append(weakref.ref(document.lesson))
    stack = document.undo_stack
    assert stack.count() == len(seen) - 1
    told = []
    document.changed.connect(lambda before, after: told.append((before, after)))
    for index in (len(seen) - 2, 250, 0, 120, 7, len(seen) - 1):
        stack.setIndex(index)
        assert document.lesson == seen[index]
        for before, after in told:
            at = seen.index(before)
            assert after in seen[max(0, at - 1) : at + 2], "one step at a time"
        told.clear()
    stack.setIndex(0)
    before, (again, after) = document.lesson.sections, (seen[0].sections, seen[1].sections)
    stack.redo()
    assert before == again
    assert document.lesson.sections == after
    assert document.lesson.sections[1] is before[1], "what a step left alone is the same object"
    stack.setIndex(len(seen) - 1)
    told.clear()
    del seen, before, again, after
    alive = sum(one() is not None for one in held)
    assert alive <= 150, "of 400, those of the newest hundred steps and of those that are no bar"
    document.deleteLater()


def test_a_save_that_ends_after_many_more_edits_is_found_again(qapp, tmp_path):
    document = Document(lesson(section("A", "q 6:0 3")))

    def write(fret):
        document.attempt("Set a fret", lambda one: notes.set_fret(one, SPOT, fret, QUARTER))

    write(5)
    mark = document.mark()
    for each in range(300):
        write(6 + each % 2)
    assert document.undo_stack.count() == 301
    document.saved_as(tmp_path / "a.chalkfret", mark)
    assert document.dirty
    document.undo_stack.setIndex(1)
    assert not document.dirty
    assert document.lesson == mark.lesson
    document.deleteLater()
