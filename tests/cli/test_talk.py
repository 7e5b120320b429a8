"""``talk`` as a user meets it."""

import json

import pytest

from chalkfret.cli import main
from chalkfret.files.lesson_file import save
from tests.builder import lesson, section

MADE = lesson(
    section("A", "q 6:0 3 5 7", key="E minor", name="Gate"),
    section("B", "q 6:0 0 0 0", tempo=80.0),
)


@pytest.fixture
def asked(capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    save(MADE, tmp_path / "riff.chalkfret")

    def ask(*words: str):
        code = main(("talk", "riff.chalkfret", *words))
        said = capsys.readouterr()
        assert "Traceback" not in said.out + said.err
        return code, said.out, said.err

    return ask


def test_the_lesson_and_then_each_section(asked):
    code, out, _err = asked()
    assert code == 0
    titles = ["The whole lesson", "Section A: Gate", "Section B"]
    assert [line for line in out.splitlines() if line in titles] == titles
    assert "- The section is in E minor. The root on Guitar 1 is open string 6." in out
    assert "100 quarter notes a minute there, 80 here." in out


def test_one_section_alone(asked):
    code, out, _err = asked("--section", "b")
    assert code == 0
    assert "Section B" in out
    assert "Section A: Gate" not in out
    assert "The whole lesson" not in out


def test_a_section_that_is_not_there(asked):
    code, out, err = asked("--section", "Q")
    assert (code, out) == (2, "")
    assert "There is no section “Q”" in err


def test_for_programs_with_figures_and_where_they_come_from(asked):
    code, out, _err = asked("--section", "A", "--json")
    assert code == 0
    points = json.loads(out)
    assert {point["section"] for point in points} == {"A"}
    key = next(point for point in points if point["kind"] == "key")
    assert key["state"] == "computed"
    assert key["figures"]["string"] == 6
    assert "sections[0].head.key" in key["from"]
    assert key["text"] == key["computed"]


def test_the_text_under_the_video(asked):
    code, out, _err = asked("--video")
    assert code == 0
    assert "Section A: Gate. E minor, 100 quarter notes a minute, 4/4." in out
    _code, again, _err = asked("--video", "--json")
    assert json.loads(again)["text"] == out
