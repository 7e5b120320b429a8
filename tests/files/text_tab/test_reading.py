"""What is guessed, what is said, and how notes are made ready for pasting."""

import re

import pytest

from chalkfret.edits import Moment, Span
from chalkfret.files.text_tab import read_text
from chalkfret.files.text_tab.file import decoded, load_text
from chalkfret.files.text_tab.guess import lowest_on_top, said_tuning, tuning_of
from chalkfret.files.text_tab.lengths import ticks_of, words
from chalkfret.files.text_tab.pasting import pasting, selected_text
from chalkfret.files.trouble import BadFile, CannotRead
from chalkfret.model import QUARTER, Meter, Mode, Sign
from chalkfret.model.start import STANDARD_SETUP
from tests.builder import lesson, part, riff, section, tuned


def staff(low, above=""):
    """A staff whose lowest line is given, with bar lines as it has."""
    blank = re.sub("[^|]", "-", low)
    rows = [f"{name}|{blank}|" for name in "eBGDA"]
    return "\n".join(filter(None, [above, *rows, f"E|{low}|"]))


@pytest.mark.parametrize("ticks", [1, 7, 630, 840, 1008, 1512, 2520, 3780, 5040, 12600, 161280])
def test_every_length_has_words_that_add_up_to_it(ticks):
    said = words(ticks)
    assert sum(size for _, size in said) == ticks
    assert [ticks_of(word) for word, _ in said] == [size for _, size in said]


@pytest.mark.parametrize("word", ["", "z", "q2", "q1:0", "1", "quarter", "e3:"])
def test_what_is_no_length_is_none(word):
    assert ticks_of(word) is None


@pytest.mark.parametrize(
    ("text", "low_to_high"),
    [
        ("Drop D", "D2 A2 D3 G3 B3 E4"),
        ("this is in dropped C, so tune down", "C2 G2 C3 F3 A3 D4"),
        ("Tuning: D A D G A D", "D2 A2 D3 G3 A3 D4"),
        ("tuned to Eb standard", "Eb2 Ab2 Db3 Gb3 Bb3 Eb4"),
        ("half-step down", "Eb2 Ab2 Db3 Gb3 Bb3 Eb4"),
        ("open G", "D2 G2 D3 G3 B3 D4"),
        ("Stimmung: C G C F A D", "C2 G2 C3 F3 A3 D4"),
    ],
)
def test_a_tuning_said_in_words(text, low_to_high):
    assert said_tuning(text) == tuple(low_to_high.split())


@pytest.mark.parametrize("text", ["the drop comes later", "Tuning: by ear", "in tune, please"])
def test_words_that_are_no_tuning(text):
    assert said_tuning(text) is None


def test_names_and_words_agree_or_the_names_win():
    names = ["E", "A", "D", "G", "B", "e"]
    low = ("D2", "A2", "D3", "G3", "B3", "E4")
    assert tuning_of(names, low) == low, "usual names, as people leave them"
    assert tuning_of(["C", "G", "C", "F", "A", "D"], low)[0] == "C2"
    assert tuning_of([""] * 7, None)[0] == "B1"


def test_which_way_up():
    assert lowest_on_top(["E", "A", "D", "G", "B", "e"])
    assert not lowest_on_top(["e", "B", "G", "D", "A", "E"])
    assert not lowest_on_top(["D", "A", "F", "C", "G", "C"])
    assert lowest_on_top(["6", "5", "4", "3", "2", "1"])


def test_what_cannot_be_read_is_said_with_its_place():
    reading = read_text("Some words\n\n" + staff("-0-?-3---"))
    codes = {fault.code: dict(fault.figures) for fault in reading.faults}
    assert codes["tab_sign_unread"] == {"line": 8, "column": 6, "text": "?"}
    assert codes["tab_words_kept"]["line"] == 1
    assert reading.lesson.sections[0].head.notes == "Some words\nE|-0-?-3---|"


def test_fields_of_a_heading_are_understood():
    reading = read_text("[Chorus] (x2)\n120 bpm\nKey: Em\n6/8\n\n" + staff("-0-3-5-0-3-5-"))
    head = reading.lesson.sections[0].head
    assert (head.name, head.times, head.tempo.start) == ("Chorus", 2, 120)
    assert (head.key.tonic, head.key.mode) == ("E", Mode.MINOR)
    assert reading.lesson.sections[0].bars[0].head.meter == Meter(6, 8)
    assert [n.onset for n in reading.lesson.sections[0].bars[0].notes[0]] == [
        n * QUARTER // 2 for n in range(6)
    ]


def test_guitars_under_their_names_are_parts():
    text = "\n\n".join(
        f"{name}\n{staff(low)}"
        for low, name in (("-0-0-0-0-", "Gtr 1"), ("-5-5-5-5-", "Gtr 2")) * 2
    )
    found = read_text(text).lesson
    assert [one.name for one in found.parts] == ["Gtr 1", "Gtr 2"]
    assert len(found.sections[0].bars) == 2
    assert {note.fret for bar in found.sections[0].bars for note in bar.notes[1]} == {5}


def test_lengths_that_do_not_fit_are_said_and_taken_from_the_spacing():
    reading = read_text(staff("-0-0-0-0-", "   w w w w"))
    assert "tab_lengths_unfit" in {fault.code for fault in reading.faults}
    assert reading.lesson.sections[0].bars[0].notes[0] == riff("q 6:0 0 0 0")[0]


def test_a_tie_is_a_fret_in_brackets_that_the_same_fret_leads_up_to():
    bars = read_text(staff("-5-------|-(5)-----")).lesson.sections[0].bars
    assert bars[1].notes[0][0].has(Sign.TIE)
    bars = read_text(staff("-5-------|-(7)-----")).lesson.sections[0].bars
    assert bars[1].notes[0][0].has(Sign.GHOST)


def test_a_selection_is_whole_bars_with_only_what_is_selected():
    made = lesson(section("A", "q 6:0 3 5 7 | q 6:8 8 8 8 | w 6:9"))
    text = selected_text(made, Span(Moment(0, 0, QUARTER), Moment(0, 1, QUARTER), (0,)))
    found = read_text(text).lesson.sections[0].bars
    assert [[note.fret for note in bar.notes[0]] for bar in found] == [[3, 5, 7], [8]]


def test_notes_for_pasting_land_on_strings_of_the_same_name():
    reading = read_text(staff("-0-0-3-3-"))
    seven = tuned("B1 E2 A2 D3 G3 B3 E4")
    found = pasting(reading, seven, "Seven")
    assert {one.note.course for one in found.clip.parts[0].notes} == {6}
    assert (found.notes, found.clip.length) == (4, 4 * QUARTER)
    plain = pasting(reading, STANDARD_SETUP, "Guitar")
    assert [one.at for one in plain.clip.parts[0].notes] == [0, QUARTER, 2 * QUARTER, 3 * QUARTER]


def test_notes_on_strings_that_are_not_there_are_counted():
    reading = read_text(staff("-0-0-3-3-"))
    found = pasting(reading, tuned("G2 D3 G3"), "Box")
    assert found.clip is None
    assert "tab_strings_beyond" in {fault.code for fault in found.faults}


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_text_files_of_every_common_encoding(encoding, tmp_path):
    path = tmp_path / "riff.txt"
    path.write_bytes(("Größe\n" + staff("-0-0-3-3-")).encode(encoding))
    assert load_text(path).lesson.sections[0].head.notes == "Größe"


def test_files_that_cannot_be_read_are_refused(tmp_path):
    with pytest.raises(CannotRead):
        load_text(tmp_path / "none.txt")
    with pytest.raises(CannotRead):
        load_text(tmp_path)
    (tmp_path / "letter.txt").write_text("Dear Tamsin")
    with pytest.raises(BadFile):
        load_text(tmp_path / "letter.txt")
    assert decoded(b"\xff\x00") == "ÿ\x00"


def test_a_retuned_section_names_the_strings_it_is_played_on():
    from msgspec.structs import replace

    from chalkfret.files.text_tab import carried, write_text
    from chalkfret.model import Retune

    one = section("A", "w 6:0")
    low = Retune("g", tuned("C2 G2 C3 F3 A3 D4"))
    made = lesson(replace(one, head=replace(one.head, retunes=(low,))), parts=(part("G"),))
    text = write_text(made)
    assert "\nC|" in text
    assert read_text(text).lesson == carried(made)


def test_two_headings_of_one_letter_become_sections_of_two():
    reading = read_text(f"[B]\n\n{staff('-0-0-3-3-')}\n\n[B]\n\n{staff('-0-0-3-3-')}")
    assert [one.head.letter for one in reading.lesson.sections] == ["B", "C"]


def test_a_text_without_a_title_is_called_like_its_file(tmp_path):
    path = tmp_path / "Low lamp.txt"
    staff = "".join(f"{name}|-0---3---|\n" for name in "eBGDAE")
    path.write_text(staff)
    assert load_text(path).lesson.head.title == "Low lamp"
    path.write_text("Title: Attic\n\n" + staff)
    assert load_text(path).lesson.head.title == "Attic"
