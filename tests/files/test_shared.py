"""What other programs rely on: the schemas and example files of shared/ are in step."""

import enum
import json

import jsonschema
import msgspec
import msgspec.inspect as kinds
import pytest

from chalkfret.files.canonical import dumps
from chalkfret.files.explain import explain
from chalkfret.files.lesson_file import loads
from chalkfret.files.record import LessonRecord
from chalkfret.files.schema import explain_schema, lesson_schema
from chalkfret.files.trouble import BadFile
from chalkfret.model import Bars
from chalkfret.words.remarks import remarks
from tests.files.anything import drawn_sound
from tests.files.examples import EXAMPLES, texts


@pytest.mark.parametrize("path", texts(), ids=lambda path: path.name)
def test_the_file_is_what_the_program_makes(path):
    assert path.read_bytes() == texts()[path], "run: python -m tests.files.examples"


def judge(schema):
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_schemas_fit_the_examples(name):
    made = EXAMPLES[name]()
    judge(lesson_schema()).validate(json.loads(texts()[example(name)]))
    judge(explain_schema()).validate(json.loads(msgspec.json.encode(explain(made))))


@pytest.mark.parametrize("name", EXAMPLES)
def test_there_is_nothing_to_remark_on_the_examples(name):
    assert remarks(EXAMPLES[name]()) == ()


def example(name):
    return next(path for path in texts() if path.name == f"{name}.chalkfret")


@pytest.mark.parametrize("seed", range(10))
def test_the_lesson_schema_fits_lessons_of_every_field(seed):
    judge(lesson_schema()).validate(json.loads(dumps(drawn_sound(seed))))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b'"fret":0', b'"fret":37'),
        (b'"fret":0', b'"frets":0'),
        (b'"fret":0', b'"fret":0,"feeling":1'),
        (b'"E4"', b'"H4"'),
        (b'"E4"', b'"E4\\n"'),
        (b'"version": 1', b'"version": 2'),
        (b'"start":112.0', b'"start":9'),
        (b"[4,4]", b"[4,4,4]"),
        (b'"title": ', b'"titel": '),
    ],
)
def test_the_lesson_schema_refuses_what_the_program_refuses(old, new):
    data = texts()[example("first-riff")]
    assert old in data
    bad = data.replace(old, new, 1)
    with pytest.raises(BadFile):
        loads(bad)
    with pytest.raises(jsonschema.ValidationError):
        judge(lesson_schema()).validate(json.loads(bad))


def test_every_field_and_every_word_is_in_an_example():
    seen: set[str] = set()
    for make in EXAMPLES.values():
        _collect(make(), seen)
    assert _all(kinds.type_info(LessonRecord), set()) <= seen


def _collect(value, seen):
    """Fields that have another value than their default, and members of enumerations."""
    if isinstance(value, enum.Enum):
        seen.add(f"{type(value).__name__}.{value.value}")
    elif isinstance(value, tuple | Bars):
        for member in value:
            _collect(member, seen)
    elif isinstance(value, msgspec.Struct):
        for field in msgspec.structs.fields(value):
            member = getattr(value, field.name)
            if member != field.default:
                seen.add(f"{type(value).__name__}.{field.name}")
            _collect(member, seen)


def _all(kind, names):
    match kind:
        case kinds.StructType():
            for field in kind.fields:
                if not kind.cls.__name__.endswith("Record"):
                    names.add(f"{kind.cls.__name__}.{field.name}")
                _all(field.type, names)
        case kinds.VarTupleType():
            _all(kind.item_type, names)
        case kinds.UnionType():
            for member in kind.types:
                _all(member, names)
        case kinds.EnumType() if kind.cls.__name__ in MUSICAL:
            names.update(f"{kind.cls.__name__}.{member.value}" for member in kind.cls)
    return names


MUSICAL = {"Sign", "SlideWay", "FingerName", "PauseKind"}
