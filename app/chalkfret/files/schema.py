"""JSON Schemas of what other programs may rely on, made from the types themselves."""

from __future__ import annotations

import json
from typing import Any, Final

import msgspec

from chalkfret.files.explained import Explained
from chalkfret.files.record import LessonRecord

_DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"


def lesson_schema() -> dict[str, Any]:
    """The schema of a lesson file. What types cannot say is judged by ``model.validate``."""
    return _schema(LessonRecord, "A Chalkfret lesson file, version 1")


def explain_schema() -> dict[str, Any]:
    """The schema of what ``explain --json`` prints."""
    return _schema(Explained, "A Chalkfret lesson explained, version 1")


def schema_text(schema: dict[str, Any]) -> str:
    """A schema as it is printed and kept in ``shared/``."""
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"


def _schema(kind: type[msgspec.Struct], title: str) -> dict[str, Any]:
    (outer,), parts = msgspec.json.schema_components([kind], ref_template="#/$defs/{name}")
    made = {"$schema": _DIALECT, "title": title, **outer, "$defs": dict(sorted(parts.items()))}
    plain: dict[str, Any] = json.loads(json.dumps(made))  # defaults are tuples; JSON has lists
    return plain
