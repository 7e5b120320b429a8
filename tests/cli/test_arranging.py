"""``retune --riff`` says what becomes of the riff and writes a lesson that is sound."""

import json
from pathlib import Path

import pytest
from msgspec.structs import replace

from chalkfret.cli.start import main
from chalkfret.files.lesson_file import load, save
from chalkfret.model import StudentSetup
from tests.builder import lesson, section, tuned


def test_the_riff_is_written_in_the_other_tuning(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source, target = tmp_path / "riff.chalkfret", tmp_path / "box.chalkfret"
    save(lesson(section("A", "q 6:3 5:0 5:2 4:0")), source)
    code = main(["retune", str(source), "--to", "G2 D3 G3", "--to-file", str(target)])
    assert code == 0
    assert "Every note can be played at its own pitch." in capsys.readouterr().out
    notes = load(target).sections[0].bars[0].notes[0]
    assert [(note.course, note.fret) for note in notes] == [(3, 0), (3, 2), (3, 4), (2, 0)]


def test_the_same_frets_are_judged(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    source = tmp_path / "riff.chalkfret"
    save(lesson(section("A", "q 6:0+5:2 5:0 5:2 5:3")), source)
    assert main(["retune", str(source), "--to", "drop d", "--riff", "same-frets"]) == 0
    said = capsys.readouterr().out
    assert "Section A: the same frets do not give this riff." in said
    assert "Bar 1: D sounds instead of E." in said


def test_a_student_is_told_of_the_capo_that_is_enough(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source, target = tmp_path / "riff.chalkfret", tmp_path / "low.chalkfret"
    save(lesson(section("A", "q 6:0+5:2 5:0 5:2 5:3")), source)
    code = main(["retune", str(source), "--to", "d standard", "--riff", "card",
                 "--to-file", str(target)])  # fmt: skip
    assert code == 0
    assert "put a capo at fret 2 and play the same frets." in capsys.readouterr().out
    capo = load(target).parts[0].setup.capo
    assert capo is not None
    assert capo.fret == 2


def test_all_students_of_the_lesson_get_their_cards_in_one_step(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = tmp_path / "riff.chalkfret"
    written = lesson(section("A", "q 6:0+5:2 5:0 5:2 5:3"))
    save(written, source)
    assert main(["retune", str(source), "--riff", "card"]) == 0
    said = capsys.readouterr().out
    assert said.count("You have ") == 4  # the usual tunings
    assert "You have Standard: E A D G B E: play it as written." in said
    assert "You have Drop D: D A D G B E: play the other fingering, at the same pitch." in said
    mine = (StudentSetup("Low", tuned("D2 G2 C3 F3 A3 D4")),)
    save(replace(written, head=replace(written.head, students=mine)), source)
    assert main(["retune", str(source), "--riff", "card", "--json"]) == 0
    (card,) = json.loads(capsys.readouterr().out)
    assert card["student"] == "Low"
    assert "put a capo at fret 2" in card["lines"][0]


@pytest.mark.parametrize(
    "more", [[], ["--riff", "same-pitch"], ["--riff", "card", "--to-file", "x.chalkfret"]]
)
def test_without_a_tuning_only_cards_can_be_said(
    more: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = tmp_path / "riff.chalkfret"
    save(lesson(section("A", "q 6:0")), source)
    assert main(["retune", str(source), *more]) == 2
    assert "--to" in capsys.readouterr().err
