"""Each demo lesson is written by real keys; the catalogue takes at most 1.5 of them a note."""

import pytest

from tests.desk.conftest import look, nothing_left_running, window  # noqa: F401
from tests.hand.lessons import count_notes, demos, empty, written
from tests.hand.new_riff import new_riff
from tests.hand.planner import plan
from tests.hand.table import measured

MOST = 1.5
LESSONS = {**demos(), "new riff": new_riff()}


@pytest.mark.parametrize("name", LESSONS)
def test_the_keys_write_the_lesson_and_its_marks(name, window):  # noqa: F811
    lesson = LESSONS[name]
    assert written(empty(lesson)) != written(lesson)
    assert measured(window, lesson).same


def test_the_catalogue_takes_at_most_so_many_keys_a_note():
    catalogue = demos().values()
    keys = sum(len(plan(lesson)) for lesson in catalogue)
    assert keys <= MOST * sum(map(count_notes, catalogue))


def test_the_new_riff_has_200_notes():
    assert count_notes(new_riff()) == 200


def test_a_plan_is_the_same_every_time():
    assert plan(new_riff()) == plan(new_riff())
