"""Talking points as sentences, in every language, and in the teacher's own words."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.edits.talking import set_talking_point
from chalkfret.files.lesson_file import load
from chalkfret.model import Lesson, NoteNaming, TalkingPoint, Tempo
from chalkfret.places import DEMO_LESSONS
from chalkfret.words.talk.points import State, points
from chalkfret.words.talk.text import talk_text, video_text
from chalkfret.words.text import speak
from tests.builder import lesson, part, section, tuned
from tests.strategies import lessons

LANTERN = load(DEMO_LESSONS / "lantern_steps.chalkfret")


@pytest.fixture(autouse=True)
def _english():
    speak("en")
    yield
    speak(None)


def said(made, kind, section_id=None):
    """The text of a point."""
    return next(one.text for one in points(made) if (one.section, one.kind) == (section_id, kind))


@settings(max_examples=60)
@given(lessons(), st.sampled_from(["en", "de", "es"]))
def test_any_lesson_can_be_talked_about_in_any_language(made: Lesson, language: str):
    speak(language)
    try:
        for point in points(made):
            assert point.text.strip() or point.state is not State.COMPUTED
            if point.state is State.COMPUTED:
                assert point.text == point.computed
        assert talk_text(made).endswith("\n")
        assert video_text(made).endswith("\n")
    finally:
        speak("en")


def test_the_tuning_of_the_demo():
    assert said(LANTERN, "tuning.low") == "From low to high Low guitar is tuned C G D F A D."
    assert said(LANTERN, "retuning.low") == (
        "To get there from standard tuning, E A D G B E: String 6 goes down 4 semitones, to C. "
        "Strings 5, 3, 2 and 1 go down 2 semitones, to G, F, A and D. String 4 stays as it is."
    )


def test_the_naming_of_notes_is_the_lessons_and_leaves_the_fingerprint():
    made = lesson(section("A", "q 6:0"), parts=(part("Low", tuned("B1 F#2 B2 E3 G#3 C#4")),))
    german = replace(made, head=replace(made.head, note_naming=NoteNaming.GERMAN))
    assert "H F♯ H E G♯ C♯" in said(german, "tuning.low")
    prints = [[one.fact.fingerprint for one in points(each)] for each in (made, german)]
    assert prints[0] == prints[1]


def test_one_semitone_and_several():
    made = lesson(section("A", "q 6:0"), parts=(part("Low", tuned("Eb2 Ab2 Db3 Gb3 Bb3 Eb4")),))
    assert "Every string goes down 1 semitone." in said(made, "retuning.low")
    assert "sound 1 semitone higher" in said(made, "student.low.1")


def edited(made, text="Slowly, please.", section_id="landing", kind="tempo", stale=""):
    """The lesson with a point in the teacher's words."""
    found = next(one for one in points(made) if (one.section, one.kind) == (section_id, kind))
    mark = stale or found.fact.fingerprint
    return set_talking_point(made, TalkingPoint(kind, "en", text, mark, section_id))


def test_own_words_are_kept_while_the_facts_hold_and_marked_when_they_do_not():
    section_id = LANTERN.sections[1].id
    made = edited(LANTERN, section_id=section_id)
    one = next(one for one in points(made) if (one.section, one.kind) == (section_id, "tempo"))
    assert (one.text, one.state) == ("Slowly, please.", State.EDITED)
    assert "[" not in talk_text(made, [section_id])

    head = replace(made.sections[1].head, tempo=Tempo(70.0))
    other = replace(made.sections[1], head=head)
    changed = replace(made, sections=(made.sections[0], other, made.sections[2]))
    one = next(one for one in points(changed) if (one.section, one.kind) == (section_id, "tempo"))
    assert (one.text, one.state) == ("Slowly, please.", State.OUTDATED)
    assert "Slowly, please. [The lesson has changed" in talk_text(changed, [section_id])
    assert "70 quarter notes a minute" in one.computed

    back = replace(changed, sections=made.sections)
    one = next(one for one in points(back) if (one.section, one.kind) == (section_id, "tempo"))
    assert one.state is State.EDITED


def test_a_change_elsewhere_leaves_them_as_they_are():
    section_id = LANTERN.sections[0].id
    made = edited(LANTERN, section_id=section_id)
    head = replace(made.sections[2].head, tempo=Tempo(70.0))
    changed = replace(made, sections=(*made.sections[:2], replace(made.sections[2], head=head)))
    one = next(one for one in points(changed) if (one.section, one.kind) == (section_id, "tempo"))
    assert one.state is State.EDITED


def test_words_for_what_is_no_more_are_shown_and_marked():
    section_id = LANTERN.sections[0].id
    gone = TalkingPoint("effect.none", "en", "Step on it here.", "f", section_id)
    made = set_talking_point(LANTERN, gone)
    last = [one for one in points(made) if one.section == section_id][-1]
    assert (last.text, last.state, last.computed) == ("Step on it here.", State.ORPHANED, "")


def test_words_in_another_language_are_not_said_in_this_one():
    section_id = LANTERN.sections[0].id
    german = TalkingPoint("tempo", "de", "Schnell.", "f", section_id)
    made = set_talking_point(LANTERN, german)
    assert said(made, "tempo", section_id).startswith("The tempo is")


def test_the_text_under_the_video():
    lines = video_text(LANTERN).splitlines()
    assert lines[0] == "Lantern Steps"
    assert "Section A: Down the stair. C Phrygian, 118 quarter notes a minute, 7/8." in lines
    order = [lines.index(one) for one in ("Tuning and strings", "Sections", "Without this tuning")]
    assert order == sorted(order)
    assert lines[-1] == LANTERN.head.licence
