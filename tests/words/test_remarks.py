from msgspec.structs import replace

from chalkfret.model import (
    BarHead,
    Capo,
    Course,
    Cue,
    CueKind,
    Lesson,
    NaturalHarmonic,
    Place,
    Section,
)
from chalkfret.model.bars import PLAIN_HEAD
from chalkfret.model.start import new_lesson
from chalkfret.words.remarks import remarks
from chalkfret.words.sentences import sentence
from tests.builder import lesson, part, section, tuned

OPEN = BarHead(repeat_open=True)
CLOSE = BarHead(repeat_close=2)


def codes(*sections: Section, **more: object) -> list[str]:
    return [one.code for one in remarks(lesson(*sections, **more))]


def of(line: str, **head: object) -> list[str]:
    return codes(section("A", line, **head))


def said(whole: Lesson) -> list[str]:
    return [sentence(one) for one in remarks(whole)]


def test_a_sound_riff_is_not_remarked_on() -> None:
    assert of("e 6:0m 0m 6:3 5h 5:2 2 7/ 5p | q 6:0+5:2+4:2 e 5:7~ 9h h 5:9t") == []


def test_an_empty_section_and_a_part_that_never_plays() -> None:
    assert said(new_lesson()) == [
        "section A: there are no notes. Write some, or remove the section."
    ]
    assert codes(section("A", "q 6:0", "q r")) == ["part_silent"]
    assert codes(section("A", "q 6:0", "q r"), section("B", "q r", "q 6:0")) == []


def test_notes_that_overlap_on_a_string() -> None:
    whole = lesson(section("A", "q 6:0 3"))
    bar = whole.sections[0].bars[0]
    long = (replace(bar.notes[0][0], length=2 * 5040), bar.notes[0][1])
    bars = whole.sections[0].bars.with_bars({0: replace(bar, notes=(long,))})
    whole = replace(whole, sections=(replace(whole.sections[0], bars=bars),))
    (only,) = said(whole)
    assert only == (
        "section A, bar 1, Guitar 1, string 6: a note goes on while the next one starts on the "
        "same string. Shorten it, or move one."
    )


def test_a_tonic_that_never_sounds() -> None:
    assert of("q 6:0 3 5 0", key="F minor") == ["tonic_silent"]
    assert of("q 6:0 1 5 0", key="F minor") == []
    assert of("q 6:0 1x 5 0", key="F minor") == ["tonic_silent"]
    assert codes(section("A", "q 6:0", "q 5:8", key="F minor")) == []


def test_a_tonic_reached_by_a_bend_or_trill_sounds() -> None:
    assert of("q 3:8b", key="F minor") == []  # E flat bent by a tone
    assert of("q 3:8", key="F minor") == ["tonic_silent"]
    assert of("q 2:6k", key="B minor") == []  # trilled with fret 12
    assert of("q 2:6", key="B minor") == ["tonic_silent"]


def test_a_retuned_section_is_judged_by_its_own_setup() -> None:
    low = part("Low", tuned("C2 G2 C3 F3 A3 D4"))
    assert codes(section("A", "q 6:0", key="C minor"), parts=(low,)) == []
    assert codes(section("A", "q 6:0", key="E minor"), parts=(low,)) == ["tonic_silent"]


def cue(start: Place, end: Place | None = None) -> Cue:
    return Cue(id="c1", label="slow sweep", kind=CueKind.SWEEP, start=start, end=end)


def test_cues_behind_the_end() -> None:
    line = "q 6:0 0 0 0 | 0 0 0 0"
    assert of(line, cues=(cue(Place(2, 0)),)) == ["cue_after_end"]
    assert of(line, cues=(cue(Place(0, 20160)),)) == ["cue_after_end"]
    assert of(line, cues=(cue(Place(1, 0), Place(2, 5040)),)) == ["cue_end_after_end"]
    assert of(line, cues=(cue(Place(1, 0), Place(0, 99999)),)) == ["cue_end_after_end"]
    assert of(line, cues=(cue(Place(1, 0), Place(2, 0)),)) == []
    assert of(line, cues=(cue(Place(0, 0), Place(1, 20160)),)) == []


def test_frets_beyond_the_neck() -> None:
    assert of("q 1:23") == ["fret_beyond_neck"]
    capo = part("Capo", replace(tuned("E2 A2 D3 G3 B3 E4"), capo=Capo(5)))
    assert codes(section("A", "q 1:18"), parts=(capo,)) == ["fret_beyond_neck_capo"]
    assert codes(section("A", "q 1:17"), parts=(capo,)) == []
    assert of("q 1:24n") == []  # a harmonic is touched where it lies, not fretted


def test_a_fret_where_a_short_string_has_none() -> None:
    setup = tuned("E2 A2 D3 G3 B3 E4")
    short = Course((replace(setup.courses[0].strings[0], first_fret=5),))
    late = part("Late", replace(setup, courses=(short, *setup.courses[1:])))
    assert codes(section("A", "q 1:3"), parts=(late,)) == ["fret_on_short_string"]
    assert codes(section("A", "q 1:0 7"), parts=(late,)) == []


def test_ties_with_nothing_before() -> None:
    assert of("q 6:3t") == ["tie_from_nothing"]
    assert of("q 6:3 r 3t") == ["tie_from_nothing"]
    assert of("q 6:3 5t") == ["tie_other_fret"]
    assert of("q r r r 6:3 | 6:3t") == []
    assert of("q 6:3 | 6:3t") == ["tie_from_nothing"]
    assert of("q r r r 6:3 | 6:5t") == ["tie_other_fret"]


def test_a_tie_over_the_border_of_sections_or_their_repetition() -> None:
    one, two = section("A", "q r r r 6:3"), section("B", "q 6:3t")
    assert codes(one, two) == []
    assert codes(replace(one, head=replace(one.head, pause_s=1.0)), two) == ["tie_from_nothing"]
    assert of("q 6:3t r r 6:3", times=2) == []


def test_hammers_pulls_and_slides_from_nothing_or_the_wrong_way() -> None:
    assert of("q 6:3h") == ["hammer_from_nothing"]
    assert of("q 6:3p") == ["pull_from_nothing"]
    assert of("q 6:3/") == ["slide_from_nothing"]
    assert of("q 6:5 3h") == ["hammer_downward"]
    assert of("q 6:3 5p") == ["pull_upward"]
    assert of("q 6:3 3/") == ["slide_nowhere"]
    assert of("q 6:5 3p 5h 7/ | 5/") == []
    assert of("q 6:5 r r r | r r r r | 7h") == ["hammer_from_nothing"]
    assert of("q 6:3k 5p") == []  # the trill has left its upper fret last


def test_after_a_harmonic_the_fret_before_says_nothing() -> None:
    whole = lesson(section("A", "q 6:12n 5h"))
    assert whole.sections[0].bars[0].notes[0][0].mark(NaturalHarmonic) is not None
    assert remarks(whole) == ()


def test_a_trill_with_its_own_fret() -> None:
    assert of("q 6:12k") == ["trill_nowhere"]


def test_repeats_that_never_match() -> None:
    line = "q 6:0 | 0 | 0"
    assert of(line, heads={0: OPEN}) == ["repeat_never_closed"]
    assert of(line, heads={0: OPEN, 2: CLOSE}) == []
    assert of(line, heads={2: CLOSE}) == []
    assert of(line, heads={0: OPEN, 1: OPEN, 2: CLOSE}) == ["repeat_never_closed"]
    assert of(line, heads={2: BarHead(repeat_close=1)}) == ["repeat_once"]


def test_bars_that_are_never_played() -> None:
    line = "q 6:0 | 0 | 0"
    first, second = BarHead(passes=(1,), repeat_close=2), BarHead(passes=(2,))
    third = BarHead(passes=(3,))
    assert of(line, heads={1: first, 2: second}) == []
    whole = lesson(section("A", line, heads={1: first, 2: third}))
    (only,) = said(whole)
    assert only == (
        "section A, bar 3: the bar is never reached in the passes that it is for (3). Correct its "
        "ending, or repeat more times."
    )


def test_endings_count_the_passes_of_their_repeat() -> None:
    """Playing the section more times brings no third ending; without a repeat, its times count."""
    line = "q 6:0 | 0 | 0"
    first, third = BarHead(passes=(1,), repeat_close=2), BarHead(passes=(3,))
    assert of(line, heads={1: first, 2: third}, times=3) == ["bar_never_played"]
    assert of(line, heads={2: third}, times=2) == ["bar_never_played"]
    assert of(line, heads={2: third}, times=3) == []


def test_a_second_ending_without_a_first() -> None:
    """Two bars apart, both for the second pass: a repeat that says nothing of its first end."""
    line, second = "q 6:0 | 0 | 0 | 0 | 0", BarHead(passes=(2,))
    opened, closed = BarHead(repeat_open=True), BarHead(repeat_close=2)
    (only,) = said(lesson(section("A", line, heads={0: opened, 1: second, 3: second, 4: closed})))
    assert only == (
        "section A, bar 2: the repeat has an ending 2 but no ending 1. Mark the bars of ending "
        "1, or correct the numbers of the endings."
    )
    heads = {0: opened, 1: BarHead(passes=(1,)), 3: second, 4: closed}
    assert of(line, heads=heads) == []
    hanging = {0: opened, 1: second, 3: replace(second, repeat_close=2)}
    assert "ending_missing" in of(line, heads=hanging), "the close itself is never reached"


def test_a_bar_behind_a_close_that_always_goes_back() -> None:
    """Its pass comes, but the plain close before it sends the player back."""
    heads = {0: BarHead(repeat_close=3), 1: BarHead(passes=(2,))}
    assert of("q 6:0 | 0", heads=heads) == ["bar_never_played"]


def test_a_tie_into_a_second_ending_looks_behind_the_first() -> None:
    heads = {
        0: PLAIN_HEAD,
        1: BarHead(passes=(1,), repeat_close=2),
        2: BarHead(passes=(2,)),
    }
    assert of("q r r r 6:3 | 6:0 | 6:3t", heads=heads) == []


def test_names_that_cannot_be_told_apart() -> None:
    found = codes(
        section("A", "q 6:0", "q 6:0"),
        section("a", "q 6:0", "q 6:0"),
        parts=(part("Guitar 1"), part("guitar1")),
    )
    assert found == ["letters_alike", "part_names_alike"]


def test_one_remark_of_a_kind_with_the_number_of_the_others() -> None:
    whole = lesson(section("A", "q 6:5 3h 2h 1h | 6:5 3h"))
    assert len(remarks(whole)) == 1
    assert said(whole)[0].endswith("(3 more like it here.)")


def test_a_section_that_stays_is_judged_once() -> None:
    one, two = section("A", "q 6:5 3h"), section("B", "q 6:5")
    before, after = lesson(one, two), lesson(one, section("B", "q 6:7"))
    assert remarks(before)[0] is remarks(after)[0]


def test_a_key_that_the_notes_contradict():
    line = "e 6:0 0 7 0 12 0 7 0 | e 6:1 8 1 3 1 8 10 8"  # E Phrygian on the low string
    assert of(line, key="E major") == ["key_contradicted"]
    assert of(line, key="E phrygian") == []
