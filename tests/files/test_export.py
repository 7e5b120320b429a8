"""Names, refusals and files of an export."""

import datetime
import errno
from pathlib import Path

import mido
import pypdf
import pytest
from msgspec.structs import replace

from chalkfret.files.disk import Disk
from chalkfret.files.export import Click, Kind, Request, plan, run
from chalkfret.files.lesson_file import save
from chalkfret.files.trouble import CannotWrite
from chalkfret.model import BeatUnit, Paper, Tempo
from tests.builder import lesson, part, section

MADE = lesson(
    section("A", "q 6:0 3 5 7 | 0 0 0 0", "q 5:0 0 0 0", name="Low road"),
    section("B", "q 6:1 1 1 1", "q 5:2 2 2 2", tempo=140.0),
    parts=(part("Lead"), part("Low guitar")),
    title="Low road",
)
A, B = (each.id for each in MADE.sections)
LEAD, LOW = (each.id for each in MADE.parts)
BOTH = (Kind.PDF, Kind.MIDI)


FOLDER = Path("out")


def names(made=MADE, kinds=(Kind.MIDI,), **wished):
    return [each.path.name for each in plan(made, "riff", Request(FOLDER, kinds, **wished))]


@pytest.mark.parametrize(
    ("wished", "expected"),
    [
        ({}, ["riff.mid"]),
        ({"kinds": BOTH}, ["riff.pdf", "riff.mid"]),
        ({"kinds": (Kind.PDF, Kind.PDF)}, ["riff.pdf"]),
        ({"sections": (A, B)}, ["riff-A.mid", "riff-B.mid"]),
        ({"parts": (LOW,)}, ["riff-Low-guitar.mid"]),
        ({"sections": (B,), "parts": (LEAD, LOW)}, ["riff-B-Lead.mid", "riff-B-Low-guitar.mid"]),
        ({"speed": 0.7}, ["riff-x0.7.mid"]),
        ({"speed": 1.0, "click": Click.WITHOUT}, ["riff-notes.mid"]),
        ({"speed": 1.25, "click": Click.ONLY}, ["riff-click-x1.25.mid"]),
        ({"kinds": BOTH, "speed": 0.5, "sections": (A,)}, ["riff-A.pdf", "riff-A-x0.5.mid"]),
    ],
)
def test_names(wished, expected):
    assert names(**wished) == expected


def test_names_are_safe_and_unlike_on_every_system():
    parts = ("a/b", "A\\B", "..", "CON<>", "Gitarre Nr. 1 ä♯", "x" * 100)
    riffs = ["q 6:0"] * len(parts)
    made = lesson(section("A'", *riffs), section("a", *riffs), section("?", *riffs),
                  parts=tuple(part(name) for name in parts))  # fmt: skip
    made = replace(made, parts=tuple(replace(p, id=f"p{at}") for at, p in enumerate(made.parts)))
    sections = tuple(replace(s, id=f"s{at}") for at, s in enumerate(made.sections))
    made = replace(made, sections=sections)
    found = names(made, sections=("s0", "s1", "s2"), parts=tuple(p.id for p in made.parts))
    assert len({name.casefold() for name in found}) == 18
    for name in found:
        assert not set(name) & set("<>:\"/\\|?* '\0")
        assert len(name.encode()) < 120
    assert found[0] == "riff-A-a-b.mid"
    assert found[6] == "riff-a-2-a-b.mid"


@pytest.mark.parametrize(
    ("wished", "code"),
    [
        ({"sections": ("s9",)}, "export_unknown"),
        ({"parts": ("p9",)}, "export_unknown"),
        ({"kinds": ()}, "export_nothing"),
        ({"speed": 0.29}, "export_speed"),
        ({"speed": 2.01}, "export_speed"),
        ({"speed": float("nan")}, "export_speed"),
        ({"count_in": 9}, "export_count_in"),
        ({"count_in": -1}, "export_count_in"),
    ],
)
def test_refusals(wished, code):
    with pytest.raises(CannotWrite) as refused:
        names(**wished)
    assert refused.value.faults[0].code == code


def test_the_lesson_itself_is_never_overwritten(tmp_path):
    source = tmp_path / "riff.chalkfret"
    save(MADE, source)
    (tmp_path / "riff.mid").hardlink_to(source)
    with pytest.raises(CannotWrite) as refused:
        plan(MADE, "riff", Request(tmp_path, (Kind.MIDI,)), source)
    assert refused.value.faults[0].code == "export_over_lesson"


def test_files_are_what_was_asked_for(tmp_path):
    folder = tmp_path / "new" / "folder"
    request = Request(folder, BOTH, sections=(B,), parts=(LOW,), paper=Paper.LETTER, speed=0.5)
    results = run(plan(MADE, "riff", request))
    assert [(result.faults, result.remarks) for result in results] == [((), ()), ((), ())]
    for result in results:
        assert result.output.path.stat().st_size == result.size
    pdf = pypdf.PdfReader(folder / "riff-B-Low-guitar.pdf")
    assert float(pdf.pages[0].mediabox.width) == pytest.approx(612, abs=1)
    assert [entry.title for entry in pdf.outline] == ["B"]
    midi = mido.MidiFile(folder / "riff-B-Low-guitar-x0.5.mid")
    struck = [m for track in midi.tracks for m in track if m.type == "note_on" and m.velocity]
    assert [m.note for m in struck if m.channel != 9] == [47] * 4
    assert midi.length == pytest.approx(4 * 60 / 140 / 0.5, abs=0.01)


@pytest.mark.parametrize(
    ("click", "clicks", "notes"),
    [(Click.WITH, True, True), (Click.WITHOUT, False, True), (Click.ONLY, True, False)],
)
def test_click_and_notes(tmp_path, click, clicks, notes):
    (result,) = run(plan(MADE, "riff", Request(tmp_path, (Kind.MIDI,), click=click)))
    midi = mido.MidiFile(result.output.path)
    channels = {m.channel for track in midi.tracks for m in track if m.type == "note_on"}
    assert (9 in channels) == clicks
    assert bool(channels - {9}) == notes


def test_the_same_lesson_and_date_are_the_same_bytes(tmp_path):
    day = datetime.date(2020, 2, 2)
    once, twice = (
        run(plan(MADE, "riff", Request(tmp_path / name, BOTH, fixed_date=day))) for name in "12"
    )
    for one, two in zip(once, twice, strict=True):
        assert one.output.path.read_bytes() == two.output.path.read_bytes()
    assert pypdf.PdfReader(once[0].output.path).metadata.creation_date.date() == day


def test_cancelling_leaves_what_was_there(tmp_path):
    (tmp_path / "riff-B.mid").write_bytes(b"old")
    begun = []
    outputs = plan(MADE, "riff", Request(tmp_path, (Kind.MIDI,), sections=(A, B)))
    results = run(
        outputs,
        progress=lambda done, of, output: begun.append((done, of, output.path.name)),
        cancelled=lambda: len(begun) == 2,
    )
    assert begun == [(0, 2, "riff-A.mid"), (1, 2, "riff-B.mid")]
    assert [result.output.path.name for result in results] == ["riff-A.mid"]
    assert (tmp_path / "riff-B.mid").read_bytes() == b"old"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["home", "riff-A.mid", "riff-B.mid"]


def test_one_failure_keeps_no_other_file_back(tmp_path):
    class FullOnce(Disk):
        calls = 0

        def sync(self, file):
            self.calls += 1
            if self.calls == 1:
                raise OSError(errno.ENOSPC, "full")

    outputs = plan(MADE, "riff", Request(tmp_path, (Kind.MIDI,), sections=(A, B)))
    first, second = run(outputs, disk=FullOnce())
    assert first.faults[0].code == "file_disk_full"
    assert not first.output.path.exists()
    assert second.faults == ()
    assert second.output.path.exists()


def test_a_tempo_that_midi_cannot_hold_is_refused_in_a_sentence(tmp_path):
    slow = lesson(section("A", "q 6:0", tempo=Tempo(10.0, BeatUnit.EIGHTH)))
    (result,) = run(plan(slow, "slow", Request(tmp_path, (Kind.MIDI,), speed=0.5)))
    assert result.faults[0].code == "midi_too_slow"
    assert not result.output.path.exists()


def test_a_folder_that_cannot_be_made_is_refused(tmp_path):
    (tmp_path / "file").write_bytes(b"")
    (result,) = run(plan(MADE, "riff", Request(tmp_path / "file" / "x", (Kind.MIDI,))))
    assert result.faults[0].code == "export_no_folder"


def test_text_tab_is_made_as_it_is_named(tmp_path):
    wished = Request(tmp_path, (Kind.TEXT,), sections=(A,), speed=0.5)
    outputs = plan(MADE, "riff", wished)
    assert [output.path.name for output in outputs] == ["riff-A.txt"], "no speed: it is no preview"
    (result,) = run(outputs)
    assert result.faults == ()
    text = outputs[0].path.read_text(encoding="utf-8")
    assert len(text.encode()) == result.size
    from chalkfret.files.text_tab import carried, read_text

    kept = replace(MADE, sections=tuple(one for one in MADE.sections if one.id == A))
    assert read_text(text).lesson == carried(kept)


def test_talking_points_are_of_all_guitars_and_the_post_of_the_whole_lesson(tmp_path):
    first = MADE.parts[0].id
    wished = Request(tmp_path, (Kind.TALK, Kind.POST), sections=(A,), parts=(first,))
    outputs = plan(MADE, "riff", wished)
    assert [output.path.name for output in outputs] == ["riff-A-talk.txt", "riff-post.txt"]
    assert all(not result.faults for result in run(outputs))
    from chalkfret.words.talk.text import talk_text, video_text

    assert outputs[0].path.read_text(encoding="utf-8") == talk_text(MADE, (A,))
    assert outputs[1].path.read_text(encoding="utf-8") == video_text(MADE)
    (whole,) = plan(MADE, "riff", Request(tmp_path, (Kind.TALK,)))
    assert whole.path.name == "riff-talk.txt"
