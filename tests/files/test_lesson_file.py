"""The lesson file: canonical, whole, and at once."""

import json

import msgspec
import pytest
from hypothesis import given
from msgspec.structs import replace

from chalkfret.files.audit import audit
from chalkfret.files.canonical import LINE_A_FIELD, dumps
from chalkfret.files.lesson_file import load, loads, save
from chalkfret.files.parse import parse
from chalkfret.files.record import LessonRecord, lesson_of
from chalkfret.files.trouble import BadFile, CannotRead
from chalkfret.files.walk import walk
from chalkfret.model import BarHead, GuitarString, Lesson, Meter, NaturalHarmonic, Tempo
from chalkfret.model.start import new_lesson
from tests.builder import lesson, part, section, tuned
from tests.files.anything import any_lessons, sound_lessons


def decoded(data: bytes) -> Lesson:
    return lesson_of(msgspec.json.decode(data, type=LessonRecord))


@given(sound_lessons)
def test_a_lesson_comes_back_equal_and_its_file_comes_back_the_same(made):
    data = dumps(made)
    again = loads(data)
    assert again == made
    assert dumps(again) == data


@given(sound_lessons)
def test_the_slow_reader_reads_what_the_fast_one_reads(made):
    assert audit(dumps(made)) == made
    loose = json.dumps(json.loads(dumps(made)), indent=3, sort_keys=True).encode()
    assert loads(loose) == made


@given(any_lessons)
def test_types_and_walk_agree_on_what_is_within_bounds(made):
    data = dumps(made)
    assert decoded(data) == made
    assert dumps(decoded(data)) == data
    tree, doubled = parse(data)
    assert (list(walk(LessonRecord, tree)), doubled) == ([], False)


@given(any_lessons)
def test_equal_lessons_are_written_alike_whatever_objects_they_are_made_of(made):
    twin = lesson_of(msgspec.convert(json.loads(dumps(made)), LessonRecord))
    assert twin == made
    assert twin is not made
    assert dumps(twin) == dumps(made)


def test_equal_values_of_unequal_making_are_written_alike():
    plain = section("A", "q 6:0n 0 0 0", tempo=Tempo(100.0))
    other = section("A", "q 6:0n 0 0 0", tempo=Tempo(100), meter=Meter(4, 4))
    bar = other.bars[0]
    note = replace(bar.notes[0][0], marks=(NaturalHarmonic(12),))
    head = BarHead(meter=Meter(4, 4), repeat_close=0, passes=tuple(iter(())))
    bars = other.bars.with_bars({0: replace(bar, head=head, notes=((note, *bar.notes[0][1:]),))})
    one, two = lesson(plain), lesson(replace(other, bars=bars))
    assert one == two
    assert dumps(one) == dumps(two)


def test_negative_zero_is_written_as_zero():
    course = tuned("E2 A2 D3").courses[0]
    courses = [replace(course, strings=(GuitarString("D3", cents=c),)) for c in (0.0, -0.0)]
    setups = [replace(tuned("E2 A2 D3"), courses=(course,) * 3) for course in courses]
    one, two = (lesson(section("A", "q 1:0"), parts=(part("P", setup),)) for setup in setups)
    assert dumps(one) == dumps(two)


def test_format_and_version_stand_first_and_every_bar_has_a_line():
    riff = "q 6:0 3 5 7 | 0 0 0 0 | 1 2 3 4"
    text = dumps(lesson(section("A", riff), section("B", riff))).decode()
    assert text.startswith('{\n  "format": "chalkfret",\n  "version": 1,\n')
    assert text.endswith("}\n")
    lines = [line.strip().removesuffix(",") for line in text.splitlines()]
    bars = [json.loads(line) for line in lines if line.startswith('{"head":')]
    assert [len(bar["notes"][0]) for bar in bars] == [4] * 6


def test_one_changed_note_is_one_changed_line():
    before = dumps(lesson(section("A", "q 6:0 3 5 7 | 0 0 0 0"))).splitlines()
    after = dumps(lesson(section("A", "q 6:0 3 5 8 | 0 0 0 0"))).splitlines()
    assert sum(one != other for one, other in zip(before, after, strict=True)) == 1


def test_what_has_a_line_a_field_has_nothing_that_the_layout_would_lose():
    for kind in LINE_A_FIELD:
        config = kind.__struct_config__
        assert (config.tag, config.omit_defaults, config.array_like) == (None, False, False)
        assert kind.__struct_encode_fields__ == kind.__struct_fields__


def test_save_and_load(tmp_path):
    path = tmp_path / "riff ünd ♯.chalkfret"
    made = lesson(section("A", "q 6:0 3 5 7", "q 5:2"), title="Größe ♯ 練習")
    save(made, path)
    assert load(path) == made
    save(load(path), path)
    assert path.read_bytes() == dumps(made)
    assert [file.name for file in tmp_path.glob("*riff*")] == [path.name]


def test_a_byte_order_mark_does_no_harm():
    data = dumps(new_lesson("x"))
    assert loads(b"\xef\xbb\xbf" + data) == loads(data)


def test_what_could_not_be_opened_again_is_not_saved(tmp_path):
    path = tmp_path / "x.chalkfret"
    save(new_lesson("before"), path)
    broken = new_lesson("two\nlines")
    with pytest.raises(BadFile) as bad:
        save(broken, path)
    assert bad.value.faults[0].code == "text_form"
    assert load(path).head.title == "before"


def test_half_a_character_is_refused_in_a_sentence(tmp_path):
    with pytest.raises(BadFile) as bad:
        save(new_lesson("x\ud83c"), tmp_path / "x.chalkfret")
    assert bad.value.faults[0].code == "text_broken"


def test_a_large_file_is_refused_before_it_is_read(tmp_path):
    path = tmp_path / "x.chalkfret"
    with path.open("wb") as file:
        file.truncate(64 * 1024 * 1024 + 1)
    with pytest.raises(BadFile) as bad:
        load(path)
    assert bad.value.faults[0].code == "file_too_big"


def test_the_systems_refusals_have_their_own_names(tmp_path):
    loop = tmp_path / "loop"
    loop.symlink_to(loop)
    for path, code in [
        (tmp_path / "nothing", "file_missing"),
        (tmp_path, "file_is_folder"),
        (tmp_path / ("x" * 400), "file_name_too_long"),
        (tmp_path / "a\0b", "file_missing"),
        (loop, "file_link_loop"),
    ]:
        with pytest.raises(CannotRead) as refused:
            load(path)
        assert refused.value.faults[0].code == code
