"""A tree of plain values against the types of a record: everything that is wrong, not only the
first, each with its path.

The types are msgspec's own account of the records, so a new field is checked without a line here.
"""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches
from functools import cache
from typing import Any, Final

import msgspec.inspect as kinds
from msgspec import Struct

from chalkfret.files.parse import Doubled, NoNumber

Path = tuple[str | int, ...]
_SHOWN_MAX: Final = 40  # characters of a wrong value that a sentence repeats


class Found(Struct, frozen=True):
    """Something wrong at ``path``: the code of its fault and the figures the sentence needs."""

    path: Path
    code: str
    figures: dict[str, str | int | float]


def walk(record: type[Struct], tree: Any) -> Iterator[Found]:
    """All that keeps ``tree`` from being a ``record``, in the order of the file."""
    return _any(_type_info(record), tree, ())


@cache
def _type_info(record: type[Struct]) -> kinds.Type:
    return kinds.type_info(record)


def _any(kind: kinds.Type, value: Any, path: Path) -> Iterator[Found]:
    match kind:
        case kinds.StructType(array_like=True):
            yield from _array(kind, value, path)
        case kinds.StructType():
            yield from _object(kind, value, path)
        case kinds.VarTupleType():
            yield from _list(kind, value, path)
        case kinds.UnionType():
            yield from _union(kind, value, path)
        case kinds.IntType() | kinds.FloatType():
            yield from _number(kind, value, path)
        case kinds.StrType():
            yield from _text(kind, value, path)
        case kinds.EnumType() | kinds.LiteralType():
            yield from _choice(kind, value, path)
        case kinds.BoolType():
            if not isinstance(value, bool):
                yield _wrong("true or false", value, path)
        case _:
            raise TypeError(kind)  # a record of a kind that no file has had yet


def _object(kind: kinds.StructType, value: Any, path: Path) -> Iterator[Found]:
    if not isinstance(value, dict):
        yield _wrong("an object", value, path)
        return
    if isinstance(value, Doubled):
        for key in value.doubles:
            yield Found((*path, key), "key_twice", {"key": shown(key)})
    known = {field.encode_name: field for field in kind.fields}
    for key in value:
        if key not in known and key != kind.tag_field:
            figures: dict[str, str | int | float] = {"key": shown(key)}
            close = get_close_matches(key[:_SHOWN_MAX], known, 1)
            if close:
                figures["close"] = close[0]
            yield Found((*path, key), "key_unknown", figures)
    for name, field in known.items():
        if name in value:
            yield from _any(field.type, value[name], (*path, name))
        elif field.required:
            yield Found((*path, name), "key_missing", {"key": name})


def _array(kind: kinds.StructType, value: Any, path: Path) -> Iterator[Found]:
    if not isinstance(value, list):
        yield _wrong("a list", value, path)
        return
    least = sum(field.required for field in kind.fields)
    yield from _length(value, least, len(kind.fields), path)
    for index, (field, member) in enumerate(zip(kind.fields, value, strict=False)):
        yield from _any(field.type, member, (*path, index))


def _list(kind: kinds.VarTupleType, value: Any, path: Path) -> Iterator[Found]:
    if not isinstance(value, list):
        yield _wrong("a list", value, path)
        return
    yield from _length(value, kind.min_length or 0, kind.max_length, path)
    for index, member in enumerate(value):
        yield from _any(kind.item_type, member, (*path, index))


def _length(value: list[Any], least: int, most: int | None, path: Path) -> Iterator[Found]:
    if len(value) < least:
        yield Found(path, "list_too_short", {"count": len(value), "least": least})
    if most is not None and len(value) > most:
        yield Found(path, "list_too_long", {"count": len(value), "most": most})


def _union(kind: kinds.UnionType, value: Any, path: Path) -> Iterator[Found]:
    """Unions here are a type or null, or words and tagged objects."""
    members = [member for member in kind.types if not isinstance(member, kinds.NoneType)]
    if value is None and len(members) < len(kind.types):
        return
    if len(members) == 1:
        yield from _any(members[0], value, path)
        return
    tagged = {str(m.tag): m for m in members if isinstance(m, kinds.StructType)}
    words = [member for member in members if not isinstance(member, kinds.StructType)]
    if isinstance(value, str) and not isinstance(value, NoNumber) and words:
        yield from _any(words[0], value, path)
    elif isinstance(value, dict):
        field = next(str(member.tag_field) for member in tagged.values())
        if field not in value:
            yield Found((*path, field), "key_missing", {"key": field})
        elif isinstance(value[field], str) and value[field] in tagged:
            yield from _object(tagged[value[field]], value, path)
        else:
            yield _unknown_choice(value[field], list(tagged), (*path, field))
    else:
        yield _wrong("a word or an object", value, path)


def _number(kind: kinds.IntType | kinds.FloatType, value: Any, path: Path) -> Iterator[Found]:
    if isinstance(value, NoNumber):
        yield Found(path, "number_impossible", {"value": shown(str(value))})
        return
    whole = isinstance(kind, kinds.IntType)
    if isinstance(value, bool) or not isinstance(value, int if whole else int | float):
        yield _wrong("a whole number" if whole else "a number", value, path)
        return
    least, most = kind.ge, kind.le
    if isinstance(kind, kinds.IntType):
        least = kind.gt + 1 if kind.gt is not None else kind.ge
        most = kind.lt - 1 if kind.lt is not None else kind.le
    elif kind.gt is not None and value <= kind.gt:
        yield Found(path, "number_not_above", {"value": value, "bound": kind.gt})
        return
    if least is not None and value < least:
        yield Found(path, "number_too_small", {"value": value, **_bounds(least, most)})
    if most is not None and value > most:
        yield Found(path, "number_too_large", {"value": value, **_bounds(least, most)})


def _bounds(least: float | None, most: float | None) -> dict[str, str | int | float]:
    bounds = {"least": least, "most": most}
    return {name: bound for name, bound in bounds.items() if bound is not None}


def _text(kind: kinds.StrType, value: Any, path: Path) -> Iterator[Found]:
    if not isinstance(value, str) or isinstance(value, NoNumber):
        yield _wrong("text", value, path)
    elif not _writable(value):
        yield Found(path, "text_broken", {"value": shown(value)})
    elif kind.min_length is not None and len(value) < kind.min_length:
        yield Found(path, "text_too_short", {"least": kind.min_length})
    elif kind.max_length is not None and len(value) > kind.max_length:
        yield Found(path, "text_too_long", {"length": len(value), "most": kind.max_length})
    elif kind.pattern is not None and not _pattern(kind.pattern).search(value):
        yield Found(path, "text_form", {"value": shown(value)})


def _writable(text: str) -> bool:
    """Half a surrogate pair can be escaped into JSON, but is no character."""
    return text.isascii() or not any("\ud800" <= letter <= "\udfff" for letter in text)


@cache
def _pattern(pattern: str) -> Any:
    import re

    return re.compile(pattern)


def _choice(kind: kinds.EnumType | kinds.LiteralType, value: Any, path: Path) -> Iterator[Found]:
    if isinstance(kind, kinds.EnumType):
        known: list[Any] = [member.value for member in kind.cls]
    else:
        known = list(kind.values)
    if isinstance(value, bool | NoNumber) or not any(
        value == word and type(value) is type(word) for word in known
    ):
        yield _unknown_choice(value, known, path)


def _unknown_choice(value: Any, known: list[Any], path: Path) -> Found:
    words = [str(word) for word in known]
    figures: dict[str, str | int | float] = {"value": shown(value), "choices": ", ".join(words)}
    close = get_close_matches(str(value)[:_SHOWN_MAX], words, 1)
    if close:
        figures["close"] = close[0]
    return Found(path, "choice_unknown", figures)


def _wrong(expected: str, value: Any, path: Path) -> Found:
    return Found(path, "type_wrong", {"expected": expected, "found": _kind_of(value)})


def _kind_of(value: Any) -> str:
    match value:
        case bool():
            return "true" if value else "false"
        case None:
            return "null"
        case dict():
            return "an object"
        case list():
            return "a list"
        case _:
            return shown(value)


def shown(value: Any) -> str:
    """The value as a sentence can repeat it: short, printable, on one line."""
    text = _kind_of(value) if isinstance(value, dict | list | bool) or value is None else str(value)
    text = "".join(letter if letter.isprintable() else "\N{REPLACEMENT CHARACTER}"
                   for letter in text[: _SHOWN_MAX + 1])  # fmt: skip
    return text if len(text) <= _SHOWN_MAX else text[:_SHOWN_MAX] + "\N{HORIZONTAL ELLIPSIS}"
