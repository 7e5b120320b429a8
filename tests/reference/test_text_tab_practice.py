"""Our text tab against tab as it is commonly typed.

Source: common practice of plain-text tab, for which there is no standard: one line a string with
the highest on top and its name before the first bar line, ``-`` as fill, notes of a chord in one
column, two digits widening it, ``h p / \\ b r ~ x``, ``<12>``, ``PM--|`` above. The expectations
are written by hand from that practice, not taken from the writer.
"""

import pytest

from chalkfret.files.text_tab.write import bare_text
from tests.builder import lesson, part, section, tuned


def tab_of(*riffs, **more):
    """The lines of the only system, without the count and the lengths above."""
    lines = bare_text(lesson(section("A", *riffs, **more))).rstrip().split("\n")
    return [line for line in lines if line[:1].strip()]


def above(*riffs, **more):
    lines = bare_text(lesson(section("A", *riffs, **more))).rstrip().split("\n")
    return [line for line in lines if not line[:1].strip()]


def test_six_lines_the_highest_on_top():
    assert tab_of("q 6:0 5:2 4:2 3:1") == [
        "e|---------|",
        "B|---------|",
        "G|-------1-|",
        "D|-----2---|",
        "A|---2-----|",
        "E|-0-------|",
    ]


def test_a_chord_is_one_column_and_two_digits_widen_it():
    assert tab_of("h 6:10+5:12+4:9 6:0") == [
        "e|-------|",
        "B|-------|",
        "G|-------|",
        "D|-9-----|",
        "A|-12----|",
        "E|-10-0--|",
    ]


@pytest.mark.parametrize(
    ("riff", "string"),
    [
        ("q 3:5 7h 5p 7/", "-5--h7-p5-/7-"),
        ("q 3:5 7/ h 5\\", "-5-/7-5\\--"),
        ("h 3:7~ 3:5x", "-7~-x--"),
        ("h 3:7b 3:12n", "-7b9-<12>-"),
        ("h 3:5T 3:7g", "-t5-(7)-"),
    ],
)  # fmt: skip
def test_marks_stand_beside_the_fret_as_players_type_them(riff, string):
    written = tab_of(riff)[2].strip("G|")
    assert written.replace("-", "") == string.replace("-", "")


def test_a_mark_over_several_notes_is_a_line_above_them():
    assert any(line.strip() == "PM----|" for line in above("e 6:0m 0m 0m 0m h 6:3"))


def test_lengths_stand_as_letters_and_beats_are_counted():
    count, lengths = above("q 6:0 e 3 5 h 0")
    assert count.split() == ["1", "2", "+", "3", "4"]
    assert lengths.split() == ["q", "e", "e", "h"]
    columns = [index for index, sign in enumerate(lengths) if sign != " "]
    frets = tab_of("q 6:0 e 3 5 h 0")[-1]
    assert [frets[column] for column in columns] == ["0", "3", "5", "0"]


def test_repeats_and_endings_are_bars_with_colons():
    from chalkfret.model import BarHead

    heads = {
        0: BarHead(repeat_open=True),
        1: BarHead(repeat_close=4, passes=(1, 2, 3)),
        2: BarHead(passes=(4,)),
    }
    lines = bare_text(lesson(section("A", "w 6:0 | w 6:3 | w 6:5", heads=heads))).split("\n")
    low = next(line for line in lines if line.startswith("E|"))
    assert low.startswith("E|:")
    assert low.count("|") == 4
    assert low.split("|")[2].endswith(":")
    assert {"[1,2,3.]", "x4", "[4.]"} <= set(lines[0].split())


def test_low_tunings_name_their_strings():
    made = lesson(section("A", "w 7:0"), parts=(part("G", tuned("B1 E2 A2 D3 G3 B3 E4")),))
    names = [line.split("|")[0] for line in bare_text(made).split("\n") if "|" in line]
    assert names == ["E", "B", "G", "D", "A", "E", "B"]
    made = lesson(section("A", "w 6:0"), parts=(part("G", tuned("Eb2 Ab2 Db3 Gb3 Bb3 Eb4")),))
    names = [line.split("|")[0].strip() for line in bare_text(made).split("\n") if "|" in line]
    assert names == ["eb", "Bb", "Gb", "Db", "Ab", "Eb"]


@pytest.mark.parametrize("width", [40, 60, 78, 100])
def test_lines_end_between_bars_and_within_the_page(width):
    made = lesson(section("A", " | ".join(["e 6:0 3 5 0 6:12 10 8 7"] * 12)))
    lines = bare_text(made, width).rstrip().split("\n")
    assert max(map(len, lines)) <= width
    assert all(line.endswith("|") for line in lines if line[:1].strip())
