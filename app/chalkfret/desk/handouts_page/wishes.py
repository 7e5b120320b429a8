"""What a teacher wishes to hand out, and the files that this comes to.

The wishes are kept in the settings folder: who makes a sheet and two previews for every lesson
says so once. Sections and parts are the lesson's own, so those left out are not kept.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from msgspec import Struct

from chalkfret.files.export import Click, Kind, Output, Request, plan
from chalkfret.model import Lesson, Paper


class Wishes(Struct, frozen=True):
    """Kinds of files, their division, and how previews are played; speeds in percent."""

    sheet: bool = True
    text: bool = False
    talk: bool = False
    post: bool = False
    clicks: tuple[Click, ...] = (Click.WITH,)  # a preview for each
    whole: bool = True
    each_section: bool = False
    each_part: bool = False
    each_both: bool = False
    speeds: tuple[int, ...] = (100,)
    count_in: int = 1
    paper: Paper | None = None
    folder: str = ""


class Left(Struct, frozen=True):
    """The sections and parts of a lesson, by id, for which no files of their own are wanted."""

    sections: frozenset[str] = frozenset()
    parts: frozenset[str] = frozenset()


def outputs(
    lesson: Lesson, stem: str, wishes: Wishes, left: Left, folder: Path, source: Path | None
) -> tuple[Output, ...]:
    """All files that the wishes come to, each once. Raises what ``files.export.plan`` raises."""
    found: dict[Path, Output] = {}
    for request in _requests(lesson, wishes, left, folder):
        for output in plan(lesson, stem, request, source):
            found.setdefault(output.path, output)
    return tuple(found.values())


def _requests(lesson: Lesson, wishes: Wishes, left: Left, folder: Path) -> Iterator[Request]:
    for sections, parts in _divisions(lesson, wishes, left):
        if wishes.sheet:
            yield Request(folder, (Kind.PDF,), sections, parts, paper=wishes.paper)
        if wishes.text:
            yield Request(folder, (Kind.TEXT,), sections, parts)
        if wishes.talk:
            yield Request(folder, (Kind.TALK,), sections, parts)
        if wishes.post:
            yield Request(folder, (Kind.POST,), sections, parts)
        for click in wishes.clicks:
            for speed in wishes.speeds:
                yield Request(
                    folder,
                    (Kind.MIDI,),
                    sections,
                    () if click is Click.ONLY else parts,  # a click is the same for every part
                    speed=speed / 100,
                    click=click,
                    count_in=wishes.count_in,
                )


def _divisions(
    lesson: Lesson, wishes: Wishes, left: Left
) -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
    sections = tuple(one.id for one in lesson.sections if one.id not in left.sections)
    parts = tuple(one.id for one in lesson.parts if one.id not in left.parts)
    if wishes.whole:
        yield (), ()
    if wishes.each_section and sections:
        yield sections, ()
    if wishes.each_part and parts:
        yield (), parts
    if wishes.each_both and sections and parts:
        yield sections, parts
