"""``retune`` as a user meets it."""

import json

import pypdf
import pytest

from chalkfret.cli import main
from chalkfret.files.lesson_file import save
from chalkfret.model import Retune
from chalkfret.model.start import STANDARD_SETUP, plain_setup
from tests.builder import lesson, part, section

LOW = plain_setup(["C2", "G2", "C3", "F3", "A3", "D4"])
MADE = lesson(
    section("A", "q 6:0 0 0 0", "q 6:0 0 0 0"),
    section("B", "q 6:0 0 0 0", "q 6:0 0 0 0", retunes=(Retune("one", LOW),)),
    parts=(part("One", STANDARD_SETUP), part("Two", LOW)),
)


@pytest.fixture
def asked(capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    save(MADE, tmp_path / "riff.chalkfret")

    def ask(*words: str):
        code = main(("retune", "riff.chalkfret", *words))
        said = capsys.readouterr()
        assert "Traceback" not in said.out + said.err
        return code, said.out, said.err

    return ask


def test_a_card_for_each_guitar(asked):
    code, out, _err = asked("--to", "drop d")
    assert code == 0
    assert "One: from Standard: E A D G B E to Drop D: D A D G B E" in out
    assert "1. String 6: 2 semitones down, E2 to D2; fret 7 of string 6 sounds as open" in out
    assert "Two: from Drop C" in out
    assert "eye protection" in out


def test_from_standard_and_as_a_row_of_notes_and_as_tuned_in_a_section(asked):
    _code, out, _err = asked("--from", "standard", "--to", "C G C F A D", "--part", "Two")
    assert out.startswith("Two: from Standard: E A D G B E to Drop C")
    _code, out, _err = asked("--section", "B", "--to", "standard", "--part", "One")
    assert out.startswith("One: from Drop C: C G C F A D to Standard")


def test_for_programs(asked):
    code, out, _err = asked("--to", "drop c", "--json")
    first, second = json.loads(out)
    assert code == 0
    assert first["part"] == "One"
    assert first["turns"][0]["strings"][0]["semitones"] == -4
    assert first["turns"][1]["reference"] == {"fretted": 6, "fret": 7, "open": 5}
    assert first["change_lb"] == pytest.approx(first["after_lb"] - first["before_lb"])
    assert second["turns"] == []
    assert second["cautions"] == []


def test_as_a_page(asked, tmp_path):
    code, _out, err = asked("--to", "drop d", "--page", "out")
    assert code == 0
    assert "riff-retune.pdf" in err
    text = pypdf.PdfReader(tmp_path / "out" / "riff-retune.pdf").pages[0].extract_text()
    assert "2 semitones down, E2 to D2" in text
    assert "eye protection" in text


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (("--to", "Q"), "is no note"),
        (("--to", "seven-string standard"), "6 strings here and 7 there"),
        (("--to", "drop d", "--part", "Three"), "no guitar “Three”"),
        (("--to", "drop d", "--section", "Z"), "no section Z"),
    ],
)
def test_what_cannot_be_meant_is_said(asked, words, why):
    code, out, err = asked(*words)
    assert code == 2
    assert out == ""
    assert why in err
