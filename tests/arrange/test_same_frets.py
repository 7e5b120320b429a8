"""The same frets in another tuning, and what a student there is told."""

from chalkfret.arrange.same_frets import Verdict, same_frets
from chalkfret.arrange.students import Advice, student_card
from chalkfret.model import StudentSetup
from chalkfret.model.setup import Capo
from tests.builder import lesson, part, section, tuned

STANDARD = tuned("E2 A2 D3 G3 B3 E4")
DROP_D = tuned("D2 A2 D3 G3 B3 E4")
D_STANDARD = tuned("D2 G2 C3 F3 A3 D4")


def riff_on(setup, line, key=None):  # type: ignore[no-untyped-def]
    return lesson(section("A", line, key=key), parts=(part("Guitar", setup),))


def test_all_strings_lower_is_the_same_riff_lower() -> None:
    found = same_frets(riff_on(STANDARD, "q 6:0 5:2 4:2+3:1 r"), 0, D_STANDARD)
    assert (found.sections[0].verdict, found.shift) == (Verdict.WHOLE, -2)


def test_one_string_lower_breaks_the_power_chord_on_it() -> None:
    found = same_frets(riff_on(STANDARD, "q 6:0+5:2 5:0 5:2 5:3"), 0, DROP_D).sections[0]
    assert found.verdict is Verdict.BROKEN
    assert [(one.course, one.shift, one.pitch) for one in found.changed] == [(6, -2, 40)]
    assert [(one.before, one.after) for one in found.shapes] == [((40, 47), (38, 47))]


def test_notes_that_differ_may_still_be_of_the_key() -> None:
    found = same_frets(riff_on(STANDARD, "q 6:0 5:0 5:2 5:3", key="A minor"), 0, DROP_D)
    assert found.sections[0].verdict is Verdict.IN_KEY


def test_strings_that_are_not_there_are_missing() -> None:
    found = same_frets(riff_on(STANDARD, "q 6:0 5:0 3:0 1:0"), 0, tuned("D3 G3 B3 E4"))
    assert found.missing == 2
    assert found.shift is None


def test_a_student_is_told_the_least_there_is_to_do() -> None:
    written = riff_on(D_STANDARD, "q 6:0 6:3 5:0 4:2")
    card = student_card(
        written,
        [StudentSetup("same", D_STANDARD), StudentSetup("low", tuned("C2 F2 A#2 D#3 G3 C4")),
         StudentSetup("standard", STANDARD)],
        0,
    )  # fmt: skip
    assert [one.advice for one in card] == [Advice.AS_WRITTEN, Advice.CAPO, Advice.FINGERED]
    assert card[1].setup.capo == Capo(2)
    assert card[2].fingered is not None
