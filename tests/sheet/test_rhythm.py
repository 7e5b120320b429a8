"""Rhythm spelling: it adds up to the very ticks, and reads as a musician writes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chalkfret.model import QUARTER, BarHead, Meter, Note
from chalkfret.sheet.rhythm import Rhythm, spell
from tests.builder import riff
from tests.strategies import bar_heads, notes_in


@st.composite
def bars(draw):
    head = draw(bar_heads())
    return draw(notes_in(head, 6, tidy=draw(st.booleans()), most=10)), head


@st.composite
def wild_bars(draw):
    """Onsets and lengths at any tick whatever."""
    head = draw(bar_heads())
    notes = []
    for course in range(1, draw(st.integers(1, 5)) + 1):
        onset = draw(st.integers(0, head.ticks - 1))
        notes.append(Note(onset, draw(st.integers(1, head.ticks - onset)), course, 3))
    return tuple(sorted(notes, key=lambda note: (note.onset, note.course))), head


def check_sum(rhythm: Rhythm, notes, head) -> None:
    at = 0
    for symbol in rhythm.symbols:
        assert symbol.onset == at
        assert symbol.length > 0
        at += symbol.length
    assert at == head.ticks
    mine = [index for index, note in enumerate(notes) if note.voice == rhythm.voice]
    assert sorted(i for symbol in rhythm.symbols for i in symbol.notes) == mine
    for symbol in rhythm.symbols:
        assert all(notes[index].onset == symbol.onset for index in symbol.notes)
        assert symbol.notes or symbol.rest or symbol.held
        middle = symbol.onset + symbol.length / 2
        sounds = any(notes[i].onset < middle < notes[i].end for i in mine)
        assert symbol.rest != sounds


def check_written(rhythm: Rhythm) -> None:
    """Value, dots and tuplet of every exact symbol are its real ticks."""
    tuplets = {i: (t.count, t.normal) for t in rhythm.tuplets for i in range(t.first, t.last + 1)}
    for index, symbol in enumerate(rhythm.symbols):
        if symbol.exact and not rhythm.silent:
            count, normal = tuplets.get(index, (1, 1))
            written = 4 * QUARTER * (2 ** (symbol.dots + 1) - 1) / 2**symbol.dots / symbol.value
            assert written * normal / count == symbol.length


@given(bars())
def test_symbols_add_up_and_rest_only_where_nothing_sounds(bar):
    notes, head = bar
    for rhythm in spell(notes, head):
        check_sum(rhythm, notes, head)
        check_written(rhythm)


@given(bars())
def test_what_lies_on_equal_parts_of_beats_is_spelled_exactly(bar):
    notes, head = bar
    assert all(symbol.exact for rhythm in spell(notes, head) for symbol in rhythm.symbols)


@given(wild_bars())
def test_even_what_cannot_be_written_adds_up(bar):
    notes, head = bar
    for rhythm in spell(notes, head):
        check_sum(rhythm, notes, head)
        check_written(rhythm)


@given(bars())
def test_beams_join_flagged_neighbours_of_one_beat_or_half_bar(bar):
    notes, head = bar
    for rhythm in spell(notes, head):
        for beam in rhythm.beams:
            assert len(beam) > 1
            assert list(beam) == list(range(beam[0], beam[-1] + 1))
            assert all(rhythm.symbols[i].value >= 8 for i in beam)
            assert not any(rhythm.symbols[i].rest for i in beam)


@st.composite
def cut_bars(draw):
    """Bars whose beats are cut into any steps, with notes that end with their beat."""
    head = draw(bar_heads())
    notes = []
    for start, length in zip(head.beat_starts, head.beats, strict=True):
        cuts = [count for count in range(1, 10) if length % count == 0]
        count = draw(st.sampled_from(cuts))
        at = 0
        while at < count:
            steps = draw(st.integers(1, count - at))
            if draw(st.booleans()):
                step = length // count
                notes.append(Note(start + at * step, steps * step, 6, 5))
            at += steps
    return tuple(notes), head


@given(cut_bars())
def test_no_bracket_leaves_the_beat_that_was_cut(bar):
    notes, head = bar
    for rhythm in spell(notes, head):
        check_sum(rhythm, notes, head)
        check_written(rhythm)
        for tuplet in rhythm.tuplets:
            first, last = rhythm.symbols[tuplet.first], rhythm.symbols[tuplet.last]
            assert not any(first.onset < at < last.onset + last.length for at in head.beat_starts)


def written(line: str, meter=(4, 4), grouping=()) -> str:
    """The first bar of a riff as spelled: values with dots, r rest, ~ tied, tuplets in brackets."""
    head = BarHead(meter=Meter(*meter), grouping=grouping)
    (rhythm,) = spell(riff(line)[0], head)
    out = []
    for index, symbol in enumerate(rhythm.symbols):
        word = ("r" if symbol.rest else "~" if symbol.held else "") + str(symbol.value)
        word += "." * symbol.dots
        for tuplet in rhythm.tuplets:
            word = f"[{tuplet.count} {word}" if tuplet.first == index else word
            word += "]" if tuplet.last == index else ""
        out.append(word)
    return " ".join(out)


# Common practice (Gould, Behind Bars, 2011, "Grouping of rhythms", from memory).
@pytest.mark.parametrize(
    ("line", "meter", "expected"),
    [
        ("q 6:0 0 0 0", (4, 4), "4 4 4 4"),
        ("w 6:0", (4, 4), "1"),
        ("h. 6:0 q 0", (4, 4), "2. 4"),
        ("e 6:0 q 0 e 0 h 0", (4, 4), "8 4 8 2"),  # syncopation within the half bar
        ("e 6:0 q 0 q 0 q 0 e 0", (4, 4), "8 4 8 ~8 4 8"),  # the half bar stays visible
        ("q 6:0 h 0 q 0", (4, 4), "4 2 4"),
        ("q. 6:0 0 q 0", (4, 4), "4. 8 ~4 4"),
        ("e 6:0 q. 0 h 0", (4, 4), "8 4. 2"),
        ("s 6:0 e 0 s 0 q 0 h 0", (4, 4), "16 8 16 4 2"),
        ("e 6:0 s r s 0 q 0 h r", (4, 4), "8 r16 16 4 r2"),
        ("q r h 6:0 q r", (4, 4), "r4 2 r4"),
        ("q 6:0 h r q 0", (4, 4), "4 r4 r4 4"),  # a rest does not hide the half bar
        ("e3 6:0 0 0 q 0 h 0", (4, 4), "[3 8 8 8] 4 2"),
        ("q3 6:0 e3 0 q 0 h 0", (4, 4), "[3 4 8] 4 2"),
        ("q3 6:0 0 0 h 0", (4, 4), "[3 4 4 4] 2"),  # over two beats
        ("h3 6:0 0 0", (4, 4), "[3 2 2 2]"),
        ("s5 6:0 0 0 0 0 q 0 h 0", (4, 4), "[5 16 16 16 16 16] 4 2"),
        ("e3 6:5 q3 r q r h r", (4, 4), "[3 8 r4] r4 r2"),  # the bracket ends with the beat
        ("e3 6:5 h. 0 q3 r", (4, 4), "[3 8 4] ~2 [3 ~8 r4]"),
        ("q3 6:0 r 0 h 0", (4, 4), "[3 4 r8] [3 r8 4] 2"),
        ("s7 6:0 0 0 0 0 0 0 q 0 h 0", (4, 4), "[7 16 16 16 16 16 16 16] 4 2"),
        ("s3 6:0 0 0 e 0 q 0 h 0", (4, 4), "[3 16 16 16] 8 4 2"),
        ("q. 6:0 0", (6, 8), "4. 4."),
        ("e 6:0 q 0 q 0 e 0", (6, 8), "8 4 4 8"),
        ("q 6:0 0 0", (6, 8), "4 8 ~8 4"),  # the second beat stays visible
        ("q. 6:0 q. r", (6, 8), "4. r4."),
        ("h. 6:0", (3, 4), "2."),
        ("q 6:0 h r", (3, 4), "4 r4 r4"),
        ("h 6:0 q. 0", (7, 8), "2 4."),
    ],
)
def test_it_reads_as_a_musician_writes(line, meter, expected):
    assert written(line, meter) == expected


def test_the_teachers_grouping_shows_in_ties_and_beams():
    assert written("q 6:0 0 q. 0", (7, 8)) == "4 4 4."
    assert written("q 6:0 0 q. 0", (7, 8), (3, 2, 2)) == "4 8 ~8 4."
    head = BarHead(meter=Meter(7, 8), grouping=(3, 2, 2))
    (rhythm,) = spell(riff("e 6:0 0 0 0 0 0 0")[0], head)
    assert rhythm.beams == ((0, 1, 2), (3, 4), (5, 6))


def test_four_eighths_of_a_half_bar_share_a_beam():
    (rhythm,) = spell(riff("e 6:0 0 0 0 0 0 0 0")[0], BarHead())
    assert rhythm.beams == ((0, 1, 2, 3), (4, 5, 6, 7))


def test_two_voices_are_read_apart():
    high = Note(0, 2520, 1, 3), Note(2520, 2520, 1, 5)
    low = Note(0, 4 * QUARTER, 6, 0, voice=1)
    upper, lower = spell((high[0], low, high[1]), BarHead())
    assert [s.value for s in upper.symbols if not s.rest] == [8, 8]
    assert [s.value for s in lower.symbols] == [1]


def test_a_bar_without_notes_is_one_rest():
    (rhythm,) = spell((), BarHead(meter=Meter(5, 8)))
    assert rhythm.silent
    assert rhythm.symbols[0].length == 5 * QUARTER // 2
