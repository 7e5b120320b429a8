"""The teacher's own words for talking points."""

import pytest

from chalkfret.edits import CannotEdit
from chalkfret.edits.talking import set_talking_point
from chalkfret.model import TalkingPoint
from tests.builder import lesson, section

LESSON = lesson(section("A", "q 6:0 3 5 0"))


def test_words_are_set_replaced_in_their_place_and_given_back():
    one = TalkingPoint("tempo", "en", "Fast.", "f1", "s-a")
    two = TalkingPoint("key", "en", "E minor.", "f2", "s-a")
    both = set_talking_point(set_talking_point(LESSON, one), two)
    assert both.head.talking_points == (one, two)
    other = TalkingPoint("tempo", "en", "Very fast.", "f3", "s-a")
    changed = set_talking_point(both, other)
    assert changed.head.talking_points == (other, two)
    assert changed.sections is both.sections
    empty = TalkingPoint("tempo", "en", " \n", "f3", "s-a")
    assert set_talking_point(changed, empty).head.talking_points == (two,)


def test_other_languages_and_sections_keep_theirs():
    english = TalkingPoint("tempo", "en", "Fast.", "f1", "s-a")
    german = TalkingPoint("tempo", "de", "Schnell.", "f1", "s-a")
    whole = TalkingPoint("tempo", "en", "All fast.", "f1", None)
    found = LESSON
    for point in (english, german, whole):
        found = set_talking_point(found, point)
    assert found.head.talking_points == (english, german, whole)


def test_the_same_words_change_nothing():
    one = TalkingPoint("tempo", "en", "Fast.", "f1", "s-a")
    found = set_talking_point(LESSON, one)
    assert set_talking_point(found, one) is found
    gone = TalkingPoint("tempo", "en", "", "f1", "s-a")
    assert set_talking_point(LESSON, gone) is LESSON


def test_words_too_long_for_the_file_are_refused():
    with pytest.raises(CannotEdit):
        set_talking_point(LESSON, TalkingPoint("tempo", "en", "x" * 20_001, "f1", "s-a"))
