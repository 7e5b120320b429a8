"""What is said of a riff in another tuning, and to students."""

from hypothesis import given
from hypothesis import strategies as st

from chalkfret.arrange.same_frets import same_frets
from chalkfret.arrange.students import student_card
from chalkfret.model import Lesson, Setup, StudentSetup
from chalkfret.words.arranging import student_words
from chalkfret.words.same_frets import frets_words
from tests.builder import lesson, part, section, tuned
from tests.strategies import lessons

ROWS = ("E2 A2 D3 G3 B3 E4", "C2 F2 Bb2 Eb3 G3 C4", "G2 D3 G3", "D2 A2 D3 G3 B3 E4")
SETUPS = [tuned(row) for row in ROWS]


def test_a_card_says_what_to_do() -> None:
    written = lesson(
        section("A", "q 6:0 6:3 5:0 5:2"), parts=(part("Guitar", tuned("D2 G2 C3 F3 A3 D4")),)
    )
    students = [StudentSetup("s", setup) for setup in SETUPS[:2]]
    cards = [student_words(written, one) for one in student_card(written, students, 0)]
    assert cards[1] == [
        "You have C standard: C F B♭ E♭ G C: put a capo at fret 2 and play the same frets."
    ]
    assert cards[0] == [
        "You have Standard: E A D G B E: play the other fingering, at the same pitch.",
        "4 notes are not quite as written.",
        "Section A, bar 1: in another octave, with the whole phrase: D, F, G, A.",
    ]


@given(lessons(most_sections=2, most_bars=3), st.sampled_from(SETUPS))
def test_there_are_words_for_every_lesson_and_setup(first: Lesson, setup: Setup) -> None:
    for one in student_card(first, [StudentSetup("s", setup)], 0):
        assert all(student_words(first, one))
    assert len(frets_words(first, same_frets(first, 0, setup))) >= len(first.sections)
