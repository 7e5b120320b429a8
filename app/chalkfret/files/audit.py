"""The slow reader: a file that is not canonical, or not sound, and everything that is wrong in it.

``lesson_file`` comes here where the fast way cannot prove that a file is exactly what this
program writes. A file that a person laid out differently is still a lesson; one with faults is
refused with as many of them as a person would mend in one go.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import islice
from typing import Any, Final

import msgspec

from chalkfret.files.parse import NoNumber, parse
from chalkfret.files.record import FORMAT, RECORDS, VERSION, LessonRecord, lesson_of
from chalkfret.files.trouble import BadFile
from chalkfret.files.walk import Found, Path, shown, walk
from chalkfret.model import Fault, Lesson, Where, fault, validate
from chalkfret.model.validate import MOST_FAULTS

_NOTE_DEPTH: Final = 7  # sections, s, bars, b, notes, p, n
_BOUNDS: Final = {"number_too_small": "least", "number_too_large": "most"}


def audit(data: bytes, decoded: Lesson | None = None) -> Lesson:
    """The lesson in these bytes. Raises BadFile with up to 20 faults and their places.

    ``decoded`` is the lesson as msgspec read it, where it could: then every value is of its type,
    and only keys that stand twice are still to be looked for.
    """
    tree, doubled = parse(data)
    record = _record_kind(tree)
    lesson = decoded if decoded is not None and not doubled else _walked(tree, record)
    rules = validate(lesson)
    if rules:
        raise BadFile(*rules)
    return lesson


def _walked(tree: Any, record: type[LessonRecord]) -> Lesson:
    found = tuple(islice(walk(record, tree), MOST_FAULTS))
    if found:
        faults = [_fault(one, tree) for one in found]
        raise BadFile(*(*faults, *_further(record, found, tree, faults))[:MOST_FAULTS])
    try:
        return lesson_of(msgspec.convert(tree, record))
    except msgspec.ValidationError as error:
        # The walk reads the same types, so this is not to happen; a file is not worth a crash.
        raise BadFile(fault("file_refused", reason=str(error))) from error


def _record_kind(tree: Any) -> type[LessonRecord]:
    """The record of the version that the file names. Raises BadFile for what is no lesson."""
    if not isinstance(tree, dict) or "format" not in tree:
        raise BadFile(fault("file_not_a_lesson"))
    if tree["format"] != FORMAT:
        raise BadFile(fault("file_other_format", format=shown(tree["format"])))
    version = tree.get("version")
    if isinstance(version, bool) or not isinstance(version, int):
        raise BadFile(fault("file_version_unclear", known=VERSION))
    if version > VERSION:
        raise BadFile(fault("file_newer", version=version, known=VERSION))
    if version not in RECORDS:
        raise BadFile(fault("file_version_unknown", version=version, known=VERSION))
    return RECORDS[version]


def _further(
    record: type[LessonRecord], found: tuple[Found, ...], tree: Any, said: Iterable[Fault]
) -> list[Fault]:
    """The broken rules of the lesson that is left when the faults found can be taken out of it.

    A faulty note is left out, a figure beyond its bounds is set to the bound, an unknown key is
    dropped; where that does not give a whole lesson, nothing more can be said of this file.
    """
    if len(found) == MOST_FAULTS:
        return []
    dropped: set[tuple[Path, int]] = set()
    for one in found:
        *above, last = one.path
        if _in_a_note(one.path):
            dropped.add((one.path[: _NOTE_DEPTH - 1], int(one.path[_NOTE_DEPTH - 1])))
        elif one.code == "key_unknown":
            del _at(tree, above)[last]
        elif one.code in _BOUNDS and isinstance(one.figures["value"], float):
            _at(tree, above)[last] = one.figures[_BOUNDS[one.code]]
        elif one.code != "key_twice":
            return []
    for path, index in sorted(dropped, reverse=True):
        del _at(tree, path)[index]
    try:
        lesson = lesson_of(msgspec.convert(tree, record))
    except msgspec.ValidationError:
        return []
    return [rule for rule in validate(lesson) if rule not in said]


def _in_a_note(path: Path) -> bool:
    return len(path) >= _NOTE_DEPTH and path[0] == "sections" and path[2:5:2] == ("bars", "notes")


def _at(tree: Any, path: Iterable[str | int]) -> Any:
    for step in path:
        tree = tree[step]
    return tree


def _fault(found: Found, tree: Any) -> Fault:
    """What was found as a fault at a musical place, as far as the file lets it be named."""
    where, rest = _place(found.path, tree)
    field = _dotted(rest)
    figures = {"field": field, **found.figures} if field else found.figures
    return fault(found.code, where, **figures)


def _place(path: Path, tree: Any) -> tuple[Where, Path]:
    """Where a path lies in the music, and what of the path is left below that place."""
    match path:
        case ("parts", int(part), "setup", "courses", int(course), *rest):
            return Where(part=_part_name(tree, part), course=course + 1), tuple(rest)
        case ("parts", int(part), *rest):
            return Where(part=_part_name(tree, part)), tuple(rest)
        case ("sections", int(at), "bars", int(bar), "notes", int(part), int(note), *rest):
            string = _course(tree["sections"][at]["bars"][bar]["notes"][part][note])
            where = Where(_letter(tree, at), bar + 1, _part_name(tree, part), string)
            return where, tuple(rest)
        case ("sections", int(at), "bars", int(bar), "notes", int(part)):
            return Where(_letter(tree, at), bar + 1, _part_name(tree, part)), ()
        case ("sections", int(at), "bars", int(bar), *rest):
            return Where(_letter(tree, at), bar + 1), tuple(rest)
        case ("sections", int(at), *rest):
            return Where(_letter(tree, at)), tuple(rest)
        case _:
            return Where(path=_dotted(path) or None), ()


def _letter(tree: Any, index: int) -> str:
    """The section's letter, or what it would be by its place where the file has none."""
    match tree["sections"][index]:
        case {"head": {"letter": str(letter)}} if _fit_to_print(letter):
            return letter
    return f"#{index + 1}"


def _part_name(tree: Any, index: int) -> str:
    match tree.get("parts"):
        case list(parts) if index < len(parts):
            match parts[index]:
                case {"name": str(name)} if _fit_to_print(name):
                    return name
    return f"#{index + 1}"


def _fit_to_print(text: str) -> bool:
    return 0 < len(text) <= 120 and text.isprintable() and not isinstance(text, NoNumber)


def _course(note: Any) -> int | None:
    course = note.get("course") if isinstance(note, dict) else None
    return course if isinstance(course, int) and not isinstance(course, bool) else None


def _dotted(path: Iterable[str | int]) -> str:
    """``("head", "cues", 0, "start")`` as ``head.cues[1].start``: members count from 1."""
    out = ""
    for step in path:
        if isinstance(step, int):
            out += f"[{step + 1}]"
        else:
            step = step if step.isprintable() else "\N{REPLACEMENT CHARACTER}"
            out += f".{step[:40]}" if out else step[:40]
    return out
