"""Bytes to a tree of plain values, without losing what a usual JSON reader swallows.

Double keys, numbers that are none and whole numbers of absurd length are kept in the tree as
values of their own kinds, so that ``walk`` can name their places.
"""

from __future__ import annotations

import codecs
import json
import re
from collections import Counter
from math import isfinite
from typing import Any, Final

from chalkfret.files.trouble import BadFile
from chalkfret.model import fault

DIGITS_MAX: Final = 18  # no whole number of a lesson is longer
_ODD_NUMBER: Final = re.compile(rb"[0-9]{19}|[0-9][eE]")  # perhaps too long, or infinite


class NoNumber(str):
    """``NaN``, ``Infinity``, or a number too large to be one, as it stands in the file."""

    __slots__ = ()


class Doubled(dict[str, Any]):
    """An object with keys that stand in it twice or more: ``doubles``."""

    doubles: tuple[str, ...] = ()


def parse(data: bytes) -> tuple[Any, bool]:
    """The tree of a file's bytes, and whether a key stands twice anywhere in it.

    Raises BadFile where it is no JSON text.
    """
    data = data.removeprefix(codecs.BOM_UTF8)  # some editors put a mark there that says nothing
    if not data.strip():
        raise BadFile(fault("file_empty"))
    if b"\0" in data:
        raise BadFile(fault("file_binary", line=_line(data, data.index(b"\0"))))
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        raise BadFile(fault("file_not_utf8", line=_line(data, error.start))) from None
    doubled: list[Doubled] = []
    try:
        tree = _decoder(data, doubled).decode(text)
    except json.JSONDecodeError as error:
        if error.msg.startswith("Unterminated") or error.pos >= len(text.rstrip()):
            raise BadFile(fault("file_cut_short", line=error.lineno)) from None
        raise BadFile(fault("file_syntax", line=error.lineno, column=error.colno)) from None
    except RecursionError:
        raise BadFile(fault("file_too_deep")) from None
    return tree, bool(doubled)


def _line(data: bytes, at: int) -> int:
    return data.count(b"\n", 0, at) + 1


def _decoder(data: bytes, doubled: list[Doubled]) -> json.JSONDecoder:
    """A reader for these bytes: numbers are only looked at one by one where it may matter."""

    def object_(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        tree = dict(pairs)
        if len(tree) == len(pairs):
            return tree
        doubled.append(Doubled(tree))
        counted = Counter(key for key, _ in pairs)
        doubled[-1].doubles = tuple(key for key, count in counted.items() if count > 1)
        return doubled[-1]

    if _ODD_NUMBER.search(data) is None:
        return json.JSONDecoder(object_pairs_hook=object_, parse_constant=NoNumber)
    return json.JSONDecoder(
        object_pairs_hook=object_, parse_constant=NoNumber, parse_int=_whole, parse_float=_fraction
    )


def _whole(digits: str) -> int | NoNumber:
    return int(digits) if len(digits) <= DIGITS_MAX else NoNumber(digits)


def _fraction(text: str) -> float | NoNumber:
    number = float(text)
    return number if isfinite(number) else NoNumber(text)
