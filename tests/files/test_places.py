"""Every fault of a file is named with its place and its remedy, up to twenty at once."""

import json

import pytest

from chalkfret.files.canonical import dumps
from chalkfret.files.lesson_file import loads
from chalkfret.files.trouble import BadFile
from chalkfret.words.sentences import sentence
from tests.builder import lesson, part, section


def tree():
    made = lesson(
        section("A", "q 6:0 3 5 7", "q 6:0 0 0 0"),
        section("B", "q 6:0 | 1 | 6:0 3b 5~ 7t", "q 5:0 | 1 | 2 3 5 7"),
        parts=(part("Lead"), part("Low guitar")),
    )
    return json.loads(dumps(made))


def said(made) -> list[str]:
    data = made if isinstance(made, bytes) else json.dumps(made).encode()
    with pytest.raises(BadFile) as bad:
        loads(data)
    return [sentence(fault) for fault in bad.value.faults]


def note(made, section=1, bar=2, part=1, at=1):
    return made["sections"][section]["bars"][bar]["notes"][part][at]


def one(made) -> str:
    (only,) = said(made)
    return only


def test_a_string_that_the_setup_has_not():
    made = tree()
    note(made)["course"] = 7
    assert one(made).startswith("section B, bar 3, Low guitar: string 7 on a 6-string setup. ")


def test_a_fret_beyond_any_neck():
    made = tree()
    note(made)["fret"] = 37
    assert one(made).startswith("section B, bar 3, Low guitar, string 5, fret: 37 is too large.")


def test_all_kinds_of_faults_come_together():
    made = tree()
    note(made)["course"] = 7
    note(made, at=2)["fret"] = -1
    note(made, at=3)["marks"] = ["hamer_on"]
    note(made, section=0, bar=0)["feeling"] = 3
    del note(made, section=0, bar=0, at=0)["length"]
    made["sections"][0]["head"]["tempo"]["start"] = 900.5
    made["parts"][0]["setup"]["courses"][5]["strings"][0]["pitch"] = "H2"
    made["colour"] = "blue"
    lines = said(made)
    for words in [
        "colour: “colour” is not known. Remove it, or correct its name.",
        "Lead, string 6, strings[1].pitch: “H2” cannot stand here.",
        "section A, head.tempo.start: 900.5 is too large. Make it 400 or less.",
        "section A, bar 1, Low guitar, string 6, length: “length” is missing.",
        "section A, bar 1, Low guitar, string 6, feeling: “feeling” is not known.",
        "section B, bar 3, Low guitar, string 5, fret: -1 is too small. Make it 0 or more.",
        "section B, bar 3, Low guitar, string 5, marks[1]: “hamer_on” cannot stand here. It can",
    ]:
        assert any(line.startswith(words) for line in lines), (words, lines)
    assert any("Perhaps “hammer_on” is meant." in line for line in lines)


def test_rules_are_told_beside_what_can_be_taken_out():
    made = tree()
    note(made)["course"] = 7
    note(made, at=2)["fret"] = -1
    made["sections"][0]["head"]["tempo"]["start"] = 900.5
    made["lesson"]["titel"] = "x"
    lines = said(made)
    assert len(lines) == 4
    assert any("string 7 on a 6-string setup" in line for line in lines)


def test_no_more_than_twenty():
    made = tree()
    for bar in made["sections"][1]["bars"] * 1:
        for notes in bar["notes"]:
            for each in notes:
                each["fret"], each["course"], each["onset"] = -1, 0, -1
    assert len(said(made)) == 20


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (b'"fret":3', b'"fret":NaN', "section A, bar 1, Lead, string 6, fret: NaN is no number."),
        (b'"fret":3', b'"fret":-Infinity', "fret: -Infinity is no number."),
        (b'"fret":3', b'"fret":3.0', "fret: 3.0 stands here. It should be a whole number."),
        (b'"fret":3', b'"fret":true', "fret: true stands here. It should be a whole number."),
        (b'"fret":3', b'"fret":null', "fret: null stands here. It should be a whole number."),
        (b'"fret":3', b'"fret":3,"fret":3', "fret: “fret” is there twice. Keep one of the two."),
        (b"100.0", b"1e400", "section A, head.tempo.start: 1e400 is no number."),
        (b'"a4": 440.0', b'"a4": 500', "Lead, setup.a4: 500 is too large. Make it 480 or less."),
        (b'"version": 1', b'"version": 2', "The file has version 2, and this program knows ver"),
        (b'"version": 1', b'"version": true', "The file does not say its version as a whole"),
        (b'"version": 1', b'"version": 0', "The file says version 0, which never was"),
        (b'"format": "chalkfret",', b"", "This is JSON, but no lesson."),
        (b'"format": "chalkfret"', b'"format": "tab"', "This is a file of the format “tab”."),
        (b'"subtitle": ""', b'"subtitle": "\\ud800"', "lesson.subtitle: half a character"),
        (b'"subtitle": ""', b'"subtitle": "' + b"x" * 481 + b'"', "the text has 481 characters"),
        (b'"subtitle": ""', b'"subtitle": "\xff"', "Line 6 of the file is not UTF-8 text."),
        (b'"subtitle": ""', b'"subtitle" ""', "The file is no JSON at line 6, column 16."),
        (b'"subtitle": ""', b'"subtitle": ' + b"[" * 9000, "The file is nested far too deep"),
        (b'"subtitle": ""', b'"subtitle": "\0"', "Line 6 of the file is not text."),
    ],
)  # fmt: skip
def test_each_kind_of_bad_file_has_its_sentence(old, new, words):
    data = dumps(loads(json.dumps(tree()).encode())).replace(old, new, 1)
    assert words in said(data)[0]


@pytest.mark.parametrize("data", [b"", b" \n", b"\xef\xbb\xbf"])
def test_an_empty_file(data):
    assert one(data).startswith("The file is empty.")


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9, 0.999])
def test_a_file_that_was_cut_short(share):
    data = dumps(loads(json.dumps(tree()).encode()))
    assert "breaks off in line" in one(data[: int(len(data) * share)])


@pytest.mark.parametrize("data", [b"\x89PNG\r\n\0\0", "ünï".encode("utf-16"), bytes(range(256))])
def test_a_binary_file(data):
    assert "of the file is not text. This is no lesson file" in one(data)


@pytest.mark.parametrize("data", [b"[]", b"null", b"3", b'"chalkfret"', b"{}"])
def test_json_that_is_no_lesson(data):
    assert one(data).startswith("This is JSON, but no lesson.")
