"""The file as a whole: its first track, its options, its click, and its texts."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.files.midi import MidiOptions, midi_bytes
from chalkfret.files.trouble import CannotWrite
from chalkfret.model import (
    QUARTER,
    BarHead,
    Cue,
    CueKind,
    Key,
    Lesson,
    Meter,
    Mode,
    Place,
    Tempo,
)
from chalkfret.timeline.clicks import clicks
from chalkfret.timeline.clock import timeline
from tests.builder import lesson, section
from tests.files.midi_reading import Heard, heard


def read(one: Lesson, **options: object) -> Heard:
    return heard(midi_bytes(one, MidiOptions(**options)).data)


def cue(name: str, bar: int, tick: int = 0, part: str | None = None) -> Cue:
    return Cue(id=name, label=name.title(), kind=CueKind.FREE, start=Place(bar, tick), part=part)


TWO = lesson(
    section(
        "A",
        "q 6:0 0 0 0 | w 6:0",
        "w 5:0 | w r",
        name="Riff",
        tempo=60,
        key="E lydian",
        times=2,
        cues=(cue("swirl", 1, QUARTER), cue("crunch", 0, part="guitar-2")),
    ),
    section("B", "h. 6:3", "h. 6:5", meter=(6, 8), tempo=120, key="C# minor"),
    title="Two riffs",
)


def test_first_track() -> None:
    found = read(TWO)
    assert found.tracks == ["Two riffs", "Guitar 1", "Guitar 2", "Click"]
    assert found.file.type == 1
    assert found.file.ticks_per_beat == 5040
    start = 16 * QUARTER
    assert found.texts("marker") == [(0, "A Riff"), (start, "B")]
    assert found.texts("cue_marker") == [(0, "Crunch (Guitar 2)"), (5 * QUARTER, "Swirl")]
    assert found.texts("text") == [(0, "E lydian"), (start, "C# minor")]
    keys = [(tick, meta.key) for tick, meta in found.metas if meta.type == "key_signature"]
    assert keys == [(0, "B"), (start, "C#m")]
    signs = [
        (tick, m.numerator, m.denominator, m.clocks_per_click, m.notated_32nd_notes_per_beat)
        for tick, m in found.metas
        if m.type == "time_signature"
    ]
    assert signs == [(0, 4, 4, 24, 8), (start, 6, 8, 36, 8)]
    assert found.tempos == [(0, 1_000_000), (start, 500_000)]


@pytest.mark.parametrize("mode", list(Mode))
@pytest.mark.parametrize("tonic", ["C", "F#", "Gb", "A#", "Cb", "E", "D#", "Fb", "B#"])
def test_every_key_has_a_legal_signature_and_its_name(tonic: str, mode: Mode) -> None:
    found = read(lesson(section("A", "w 6:0", key=Key(tonic, mode))))
    assert [meta.type for _, meta in found.metas].count("key_signature") == 1
    assert found.texts("text") == [(0, f"{tonic} {mode.value.replace('_', ' ')}")]


def test_a_scale_of_ones_own_is_named_by_its_degrees() -> None:
    found = read(lesson(section("A", "w 6:0", key=Key("E", degrees=("1", "b2", "3", "5")))))
    assert found.texts("text") == [(0, "E: 1 b2 3 5")]


@pytest.mark.parametrize(
    "title", ["Übung ♯1", "練習曲", "Этюд", "تمرين", "🎸 riff", "a\ud800b", ""]
)
def test_titles_in_any_script(title: str) -> None:
    one = replace(TWO, head=replace(TWO.head, title=title))
    assert read(one).tracks[0] == title.replace("\ud800", "?")


def test_sections_and_parts() -> None:
    only = read(TWO, sections=("s-b",), parts=("guitar-2",))
    assert only.tracks == ["Two riffs", "Guitar 2", "Click"]
    assert [(n.start_s, n.number) for n in only.notes if n.channel != 9] == [(0, 45)]
    assert only.texts("marker") == [(0, "B")]
    other = read(TWO, parts=("guitar-1",))
    assert other.texts("cue_marker") == [(5 * QUARTER, "Swirl")]
    with pytest.raises(CannotWrite):
        read(TWO, sections=("nowhere",))


def test_click_and_notes_with_without_or_alone() -> None:
    assert read(TWO, click=False).tracks == ["Two riffs", "Guitar 1", "Guitar 2"]
    alone = read(TWO, notes=False)
    assert alone.tracks == ["Two riffs", "Click"]
    assert {note.channel for note in alone.notes} == {9}
    assert alone.texts("marker") == read(TWO).texts("marker")
    assert alone.seconds(alone.end) == timeline(TWO).total_s


def test_the_click_is_the_timelines() -> None:
    found = read(TWO, notes=False)
    wanted = [
        (click.start_s, {2: (76, 120), 1: (77, 100), 0: (77, 64)}[click.accent])
        for click in clicks(TWO)
    ]
    assert [(n.start_s, (n.number, n.velocity)) for n in found.notes] == wanted


def test_count_in_before_everything() -> None:
    found = read(TWO, count_in=2)
    assert found.seconds(8 * QUARTER) == 8
    assert min(note.start_s for note in found.notes if note.channel != 9) == 8
    assert [n.start_s for n in found.notes if n.channel == 9][:9] == list(range(9))
    assert [n.number for n in found.notes if n.channel == 9][:5] == [76, 77, 77, 77, 76]
    assert found.texts("marker")[0] == (8 * QUARTER, "A Riff")
    assert next(tick for tick, m in found.metas if m.type == "time_signature") == 0


def test_a_count_in_clicks_even_without_a_click() -> None:
    found = read(TWO, count_in=1, click=False)
    assert [n.start_s for n in found.notes if n.channel == 9] == [0, 1, 2, 3]


def test_count_in_at_the_first_tempo_of_what_follows() -> None:
    one = lesson(
        section("A", "w 6:0", tempo=60),
        section("B", "e 6:0 0 0 0 0 0 0", meter=(7, 8), tempo=Tempo(120.0, end=240.0)),
    )
    found = read(one, sections=("s-b",), count_in=1, click=False)
    assert [n.start_s for n in found.notes if n.channel == 9] == [place / 4 for place in range(7)]
    assert min(n.start_s for n in found.notes if n.channel != 9) == 1.75


def test_a_pickup_takes_its_place_in_the_count() -> None:
    one = lesson(section("A", "q 6:0 | w 6:0", heads={0: BarHead(pickup=QUARTER)}, tempo=60))
    found = read(one, count_in=1)
    assert [n.start_s for n in found.notes if n.channel == 9] == list(range(8))
    assert [n.start_s for n in found.notes if n.channel != 9] == [3, 4]
    assert [n.number for n in found.notes if n.channel == 9] == [76, 77, 77, 77] * 2


def test_a_cue_that_never_sounds_is_said() -> None:
    one = lesson(section("A", "w 6:0", cues=(cue("late", 4),)))
    (remark,) = midi_bytes(one).remarks
    assert (remark.code, remark.where.section, remark.where.bar) == ("midi_cue_silent", "A", 5)
    assert dict(remark.figures) == {"label": "Late"}


def test_silence_too_long_for_one_delta_time() -> None:
    """32 whole notes a bar, 64 times over: more quarters than a delta-time can count."""
    bars = [BarHead(meter=Meter(32, 1))] * 7
    long = section("A", " | ".join([""] * 7), heads=dict(enumerate(bars)), times=64, tempo=240)
    one = lesson(replace(long, bars=long.bars))
    found = read(one, click=False)
    assert found.end == 32 * 4 * 7 * 64 * QUARTER > 0x0FFFFFFF
    assert found.seconds(found.end) == pytest.approx(timeline(one).total_s, abs=0.001)


@given(st.integers(1, 32), st.sampled_from([1, 2, 4, 8, 16, 32]), st.integers(0, 10_000))
def test_every_meter_has_bytes(count: int, unit: int, pickup: int) -> None:
    head = BarHead(meter=Meter(count, unit))
    short = replace(head, pickup=pickup) if 0 < pickup <= head.ticks else head
    found = read(lesson(section("A", " | | ", heads={0: short, 1: head, 2: head})), count_in=1)
    lines = set(found.bar_lines())
    highs = {note.on for note in found.notes if note.number == 76}
    assert highs <= lines
