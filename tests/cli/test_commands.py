"""The command line as a user meets it."""

import errno
import json

import jsonschema
import pytest

from chalkfret.cli import main
from chalkfret.files.lesson_file import dumps, save
from chalkfret.files.schema import explain_schema, lesson_schema
from chalkfret.model import Cue, CueKind, Place
from tests.builder import lesson, part, section

MADE = lesson(
    section("A", "q 6:0 3b 5 7x", "q 5:0 0 0 0", name="Low road", key="E minor", times=2),
    section("B", "q 6:1 1 1 1", "q 5:2 2 2 2", tempo=140.0),
    parts=(part("Lead"), part("Low guitar")),
    title="Low road ♯",
)


@pytest.fixture
def riff(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    save(MADE, tmp_path / "riff.chalkfret")
    return "riff.chalkfret"


@pytest.fixture
def faulty(tmp_path, riff):
    data = dumps(MADE).replace(b'"course":5', b'"course":7').replace(b'"fret":3', b'"fret":99')
    (tmp_path / "faulty.chalkfret").write_bytes(data)
    return "faulty.chalkfret"


@pytest.fixture
def asked(capsys):
    def ask(*words: str):
        code = main(words)
        said = capsys.readouterr()
        assert "Traceback" not in said.out + said.err
        return code, said.out, said.err

    return ask


def test_check_finds_nothing(riff, asked):
    assert asked("check", riff) == (0, "riff.chalkfret: nothing to remark.\n", "")


def test_check_names_every_fault(faulty, asked):
    code, out, err = asked("check", faulty)
    assert (code, err) == (1, "")
    assert "section A, bar 1, Low guitar: string 7 on a 6-string setup. " in out
    assert "section A, bar 1, Lead, string 6, fret: 99 is too large. " in out


def test_remarks_alone_are_no_fault(tmp_path, asked):
    late = Cue("c1", "Drive", CueKind.DRIVE, Place(9, 0))
    save(lesson(section("A", "q 6:0", cues=(late,))), tmp_path / "late.chalkfret")
    code, out, _ = asked("check", str(tmp_path / "late.chalkfret"))
    assert code == 0
    assert "remark: section A: the cue “Drive” starts behind the end" in out


def test_check_as_json(riff, faulty, asked):
    code, out, _ = asked("check", riff, faulty, "nothing.chalkfret", "--json")
    assert code == 2
    good, bad, none = json.loads(out)
    assert good == {"file": riff, "faults": [], "remarks": []}
    assert {fault["code"] for fault in bad["faults"]} == {"course_beyond_setup", "number_too_large"}
    assert bad["faults"][0]["where"]["section"] == "A"
    assert none["faults"][0]["code"] == "file_missing"


@pytest.mark.parametrize("command", ["check", "explain", "export"])
@pytest.mark.parametrize(("data", "code"), [(b"", 1), (b"\0\1", 1), (b"{}", 1), (None, 2)])
def test_bad_files_have_a_sentence_and_a_code(tmp_path, asked, command, data, code):
    path = tmp_path / "x.chalkfret"
    if data is None:
        path.mkdir()
    else:
        path.write_bytes(data)
    more = ["--to", str(tmp_path / "out"), "--as", "pdf,midi"] if command == "export" else []
    got, out, err = asked(command, str(path), *more)
    assert got == code
    assert str(path) in out + err
    assert not (tmp_path / "out").exists()


def test_explain_as_json_keeps_to_its_schema(riff, asked):
    code, out, err = asked("explain", riff, "--json")
    assert (code, err) == (0, "")
    value = json.loads(out)
    jsonschema.validate(value, explain_schema())
    assert value["title"] == "Low road ♯"
    assert [section["start_s"] for section in value["sections"]] == pytest.approx([0, 4.8])
    first = value["notes"][0]
    assert {name: first[name] for name in first if name != "end_s"} == {
        "part": "Lead", "section": "A", "pass": 1, "bar": 1, "beat": 1.0, "start_s": 0.0,
        "string": 6, "fret": 0, "midi": 40.0, "name": "E", "degree": "1", "marks": [],
        "hz": pytest.approx(82.4069, abs=1e-4),
    }  # fmt: skip


def test_explain_for_a_reader(riff, asked):
    code, out, _ = asked("explain", riff)
    assert code == 0
    assert "A  Low road: 100 quarter notes a minute, 4/4, 2 times, 0:00.00 - 0:04.80" in out
    assert "E minor: E F♯ G A B C D" in out
    assert "Lead, bar 1, time 2: 1 6:0 E(1)  2 6:3 G(♭3) bend  3 6:5 A(4)  4 6:7 x" in out


def test_explain_keeps_the_order_of_the_parts(tmp_path, riff, asked):
    made = lesson(section("A", "q 6:0", "q 5:0"), parts=(part("Rhythm"), part("Lead")))
    save(made, tmp_path / "two.chalkfret")
    _, out, _ = asked("explain", "two.chalkfret")
    assert out.index("Rhythm, bar 1") < out.index("Lead, bar 1")


@pytest.mark.parametrize(
    ("words", "schema"),
    [([], lesson_schema), (["lesson"], lesson_schema), (["explain"], explain_schema)],
)
def test_schema(asked, words, schema):
    code, out, _ = asked("schema", *words)
    assert code == 0
    assert json.loads(out) == schema()


def test_export(riff, asked, tmp_path):
    code, out, err = asked(
        "export", riff, "--to", "out", "--as", "midi", "--section", "A,b", "--part", "Low guitar",
        "--speed", "0.7", "--count-in", "1",
    )  # fmt: skip
    assert (code, err) == (0, "")
    expected = ["riff-A-Low-guitar-x0.7.mid", "riff-B-Low-guitar-x0.7.mid"]
    assert out.splitlines() == [f"out/{name}" for name in expected]
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == expected


def test_export_as_json(riff, asked):
    code, out, _ = asked("export", riff, "--to", "out", "--as", "midi", "--json")
    assert code == 0
    (result,) = json.loads(out)
    assert (result["file"], result["kind"], result["faults"]) == ("out/riff.mid", "midi", [])
    assert result["bytes"] > 100


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--section", "C"], "There is no section “C”. The lesson has: A, B."),
        (["--part", "Bass"], "There is no part “Bass”. The lesson has: Lead, Low guitar."),
        (["--speed", "3"], "The speed is 3. Choose one from 0.3 to 2"),
        (["--speed", "nan"], "The speed is nan."),
        (["--count-in", "99"], "A count-in of 99 bars."),
        (["--click", "without", "--notes", "without"], "there is nothing to hear"),
    ],
)
def test_a_wrong_wish_is_said_before_anything_is_written(riff, asked, tmp_path, words, said):
    code, _, err = asked("export", riff, "--to", "out", "--as", "midi", *words)
    assert code == 2
    assert said in err
    assert not (tmp_path / "out").exists()


def test_two_lessons_of_one_name_are_not_written_over_each_other(riff, asked, tmp_path):
    (tmp_path / "other").mkdir()
    save(MADE, tmp_path / "other" / riff)
    code, _, err = asked("export", riff, f"other/{riff}", "--to", "out", "--as", "midi")
    assert code == 2
    assert "Two of these lessons would both be written to out/riff.mid" in err


def test_a_lesson_called_like_its_export_is_kept(asked, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    save(MADE, tmp_path / "riff.mid")
    code, _, err = asked("export", "riff.mid", "--to", ".", "--as", "midi")
    assert code == 2
    assert "is the lesson itself" in err


@pytest.mark.parametrize(
    "words",
    [
        ["play"],
        ["export"],
        ["export", "x.chalkfret", "--to", "out", "--as", "mp3"],
        ["export", "x.chalkfret", "--to", "out", "--as", ","],
        ["export", "x.chalkfret", "--to", "out", "--as", "midi", "--speed", "fast"],
        ["export", "x.chalkfret", "--to", "out", "--as", "midi", "--paper", "a3"],
        ["export", "x.chalkfret", "--to", "out", "--as", "pdf", "--fixed-date", "yesterday"],
        ["schema", "tab"],
        ["check"],
        ["--json"],
    ],
)
def test_usage_is_one_line_and_exit_code_2(asked, words):
    code, out, err = asked(*words)
    assert (code, out) == (2, "")
    assert len(err.splitlines()) == 1
    assert "--help" in err


def test_help_has_examples(asked):
    for words in ([], ["--help"]):
        code, out, _ = asked(*words)
        assert code == 0
        assert "chalkfret export riff.chalkfret --to out --as pdf,midi" in out
    for command in ("open", "export", "check", "explain", "schema"):
        code, out, _ = asked(command, "--help")
        assert (code, out[:6]) == (0, "usage:")


def test_what_is_unforeseen_is_a_sentence_too(riff, asked, monkeypatch):
    def broken(lesson):
        raise RuntimeError("broken")

    monkeypatch.setattr("chalkfret.files.explain.explain", broken)
    code, _, err = asked("explain", riff)
    assert code == 2
    assert "Something unforeseen went wrong (RuntimeError: broken)." in err
    with pytest.raises(RuntimeError):
        asked("explain", riff, "--debug")


def test_a_file_of_the_program_that_is_gone_is_not_laid_to_the_output(riff, asked, monkeypatch):
    def gone(lesson):
        raise FileNotFoundError(errno.ENOENT, "No such file", "unit_weights.csv")

    monkeypatch.setattr("chalkfret.files.explain.explain", gone)
    code, _, err = asked("explain", riff)
    assert code == 2
    assert "unforeseen" in err
    assert "unit_weights.csv" in err
