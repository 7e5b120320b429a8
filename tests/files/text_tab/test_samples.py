"""Tabs in the styles that people type, each with the reading that its writer meant.

All are written for these tests: riffs of our own, and one tune in the public domain. A sample's
head names its style and what is to be read: the bars as ``tests.builder`` writes a riff, and where
it matters tuning (low to high), capo, meter, repeats, notes and the codes of what is said.
"""

from pathlib import Path

import pytest

from chalkfret.files.text_tab import read_text
from chalkfret.model import Meter, tuning_names, validate
from tests.builder import riff

SAMPLES = sorted((Path(__file__).parent / "samples").glob("*.txt"))


def opened(path: Path) -> tuple[dict[str, str], str]:
    """A sample's head and its tab."""
    head, _, tab = path.read_bytes().decode("utf-8").partition("\n" + "-" * 20 + "\n")
    fields = dict(line.split(": ", 1) for line in head.split("\n"))
    return fields, tab


def test_there_are_thirty_styles() -> None:
    assert len(SAMPLES) >= 30
    styles = [opened(path)[0]["style"] for path in SAMPLES]
    assert len(set(styles)) == len(styles)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_a_sample_is_read_as_it_is_meant(path: Path) -> None:
    head, tab = opened(path)
    reading = read_text(tab)
    lesson = reading.lesson
    assert lesson is not None
    assert validate(lesson) == ()
    bars = [bar for section in lesson.sections for bar in section.bars]
    assert [bar.notes[0] for bar in bars] == riff(head["bars"])
    assert {fault.code for fault in reading.faults} == set(head.get("faults", "").split())
    section, setup = lesson.sections[0], lesson.parts[0].setup
    assert section.head.notes == head.get("notes", "")
    assert section.head.name == head.get("name", "")
    if "tuning" in head:
        assert " ".join(tuning_names(setup)) == head["tuning"]
    assert (setup.capo.fret if setup.capo else 0) == int(head.get("capo", 0))
    count, unit = map(int, head.get("meter", "4/4").split("/"))
    assert {bar.head.meter for bar in bars} == {Meter(count, unit)}
    signs = [(bar.head.repeat_open, bar.head.repeat_close, bar.head.passes) for bar in bars]
    assert signs == repeated(head.get("repeat", ""), head.get("endings", ""), len(bars))


def repeated(repeat: str, endings: str, count: int) -> list[tuple[bool, int, tuple[int, ...]]]:
    """``1-2 x4`` and ``2:1 3:2`` (bar and pass) as the heads of so many bars have it."""
    opens, closes, times = 0, 0, 0
    if repeat:
        span, _, played = repeat.partition(" x")
        opens, closes = map(int, span.split("-"))
        times = int(played)
    passes = dict(tuple(map(int, one.split(":"))) for one in endings.split())
    return [
        (n == opens, times if n == closes else 0, (passes[n],) if n in passes else ())
        for n in range(1, count + 1)
    ]
