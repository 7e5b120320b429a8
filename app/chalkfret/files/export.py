"""What leaves the desk: which files a request makes, what they are called, and their writing.

The command line and the Hand-outs page ask here, so that both give the same names and refuse the
same things. A file is called STEM[-SECTION][-PART][-KIND][-SPEED].EXT; one of everything is
STEM.EXT. Each section and each part named in a request gets a file of its own, because that is
how teachers hand them out: a riff to a file.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Sequence
from enum import StrEnum
from pathlib import Path
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from chalkfret.files.atomic import replace_file
from chalkfret.files.disk import DISK, Disk
from chalkfret.files.trouble import CannotWrite, FileTrouble, system_fault
from chalkfret.model import Fault, Lesson, Paper, fault

SPEED_MIN: Final = 0.3
SPEED_MAX: Final = 2.0
COUNT_IN_MAX: Final = 8  # bars
FIXED_DATE: Final = datetime.date(2000, 1, 1)  # where a fixed date is wished for and none named
_SLUG_MAX: Final = 40  # characters that a section or part adds to a name


class Kind(StrEnum):
    """Kinds of files that a lesson can be made into."""

    PDF = "pdf"
    MIDI = "midi"
    TEXT = "text"
    TALK = "talk"  # what to say on camera
    POST = "post"  # what to write under the video


EXTENSIONS: Final = {
    Kind.PDF: ".pdf",
    Kind.MIDI: ".mid",
    Kind.TEXT: ".txt",
    Kind.TALK: ".txt",
    Kind.POST: ".txt",
}


class Click(StrEnum):
    """Whether a preview clicks."""

    WITH = "with"
    WITHOUT = "without"
    ONLY = "only"


class Request(Struct, frozen=True):
    """What is wished for. ``sections`` and ``parts`` are ids; none named means all in one file."""

    folder: Path
    kinds: tuple[Kind, ...]
    sections: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    speed: float = 1.0  # of previews
    paper: Paper | None = None  # None: the lesson's own
    click: Click = Click.WITH
    count_in: int = 0  # bars
    fixed_date: datetime.date | None = None  # None: the day it is made


class Output(Struct, frozen=True):
    """One file to be made: ``section`` and ``part`` are ids, None for all."""

    lesson: Lesson
    path: Path
    kind: Kind
    section: str | None
    part: str | None
    request: Request


class Result(Struct, frozen=True):
    """What became of an output: written with ``size`` bytes, or not, for the reason ``faults``."""

    output: Output
    size: int
    remarks: tuple[Fault, ...] = ()
    faults: tuple[Fault, ...] = ()


def plan(
    lesson: Lesson, stem: str, request: Request, source: Path | None = None
) -> tuple[Output, ...]:
    """The files that a request makes of a lesson whose file is called ``stem``.

    Raises CannotWrite for what cannot be meant: a section or part that the lesson has not, a
    speed beyond 30 to 200 %, nothing to make, or a file that would take the lesson's own place.
    """
    _refuse(lesson, request)
    letters = dict(
        zip(
            (section.id for section in lesson.sections),
            _slugs([section.head.letter for section in lesson.sections]),
            strict=True,
        )
    )
    names = dict(
        zip(
            (part.id for part in lesson.parts),
            _slugs([part.name for part in lesson.parts]),
            strict=True,
        )
    )
    outputs = []
    for kind in dict.fromkeys(request.kinds):
        sections, parts = _divided(kind, request)
        for section in dict.fromkeys(sections) or [None]:
            for part in dict.fromkeys(parts) or [None]:
                words = [stem, letters.get(section or ""), names.get(part or "")]
                words += _qualities(kind, request)
                name = "-".join(word for word in words if word) + EXTENSIONS[kind]
                path = request.folder / name
                if source is not None and _same_file(path, source):
                    raise CannotWrite(fault("export_over_lesson", file=str(path)))
                outputs.append(Output(lesson, path, kind, section, part, request))
    return tuple(outputs)


def _divided(kind: Kind, request: Request) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The sections and parts that get files of their own: one talks of all guitars together."""
    if kind is Kind.POST:
        return (), ()
    return request.sections, () if kind is Kind.TALK else request.parts


def _refuse(lesson: Lesson, request: Request) -> None:
    known = {section.id for section in lesson.sections} | {part.id for part in lesson.parts}
    for wished in (*request.sections, *request.parts):
        if wished not in known:
            raise CannotWrite(fault("export_unknown", id=wished))
    if not request.kinds:
        raise CannotWrite(fault("export_nothing"))
    if not SPEED_MIN <= request.speed <= SPEED_MAX:
        raise CannotWrite(
            fault("export_speed", speed=request.speed, least=SPEED_MIN, most=SPEED_MAX)
        )
    if not 0 <= request.count_in <= COUNT_IN_MAX:
        raise CannotWrite(fault("export_count_in", bars=request.count_in, most=COUNT_IN_MAX))


def _qualities(kind: Kind, request: Request) -> list[str]:
    """What sets a file apart from the plain one of its kind."""
    if kind in (Kind.TALK, Kind.POST):
        return [kind.value]
    if kind is not Kind.MIDI:
        return []
    words: list[str] = {Click.WITH: [], Click.WITHOUT: ["notes"], Click.ONLY: ["click"]}[
        request.click
    ]
    return [*words, *([] if request.speed == 1 else [f"x{request.speed:g}"])]


def _slugs(names: Sequence[str]) -> list[str]:
    """Names as they can stand in a file's name on every system, no two of them alike there."""
    taken: set[str] = set()
    slugs = []
    for name in names:
        kept = "".join(letter if letter.isalnum() else "-" for letter in name[:_SLUG_MAX])
        slug = base = "-".join(filter(None, kept.split("-"))) or "x"
        number = 2
        while slug.casefold() in taken:
            slug, number = f"{base}-{number}", number + 1
        taken.add(slug.casefold())
        slugs.append(slug)
    return slugs


def _same_file(one: Path, other: Path) -> bool:
    try:
        return one.samefile(other)
    except OSError:
        return False  # what does not exist is not overwritten


def run(
    outputs: Sequence[Output],
    progress: Callable[[int, int, Output], None] = lambda done, of, output: None,
    cancelled: Callable[[], bool] = lambda: False,
    disk: Disk = DISK,
) -> tuple[Result, ...]:
    """Make the files, each in memory first and then put in place whole.

    ``progress(done, of, output)`` is called before each; after ``cancelled()`` no further file is
    begun or replaced. What goes wrong with one file is in its result and keeps no other back.
    """
    results: list[Result] = []
    for done, output in enumerate(outputs):
        if cancelled():
            break
        progress(done, len(outputs), output)
        try:
            data, remarks = _made(output)
            if cancelled():
                break
            put_file(output.path, data, disk)
        except FileTrouble as trouble:
            results.append(Result(output, 0, faults=trouble.faults))
        else:
            results.append(Result(output, len(data), remarks))
    return tuple(results)


def put_file(path: Path, data: bytes, disk: Disk = DISK) -> None:
    """Put a file in place whole, its folder made where there is none; raises CannotWrite."""
    try:
        disk.make_folder(path.parent)
    except (FileExistsError, NotADirectoryError) as error:
        raise CannotWrite(fault("export_no_folder", folder=str(path.parent))) from error
    except (FileNotFoundError, PermissionError) as error:
        raise CannotWrite(fault("export_folder_refused", folder=str(path.parent))) from error
    except (OSError, ValueError) as error:
        raise CannotWrite(system_fault(error, path)) from error
    try:
        replace_file(path, data, disk)
    except (OSError, ValueError) as error:
        raise CannotWrite(system_fault(error, path)) from error


def _made(output: Output) -> tuple[bytes, tuple[Fault, ...]]:
    """The bytes of a file, and what is to be said about them."""
    match output.kind:
        case Kind.PDF:
            return _pdf(output), ()
        case Kind.MIDI:
            return _midi(output)
        case Kind.TEXT:
            return _text(output), ()
        case Kind.TALK | Kind.POST:
            return _talk(output), ()


def _text(output: Output) -> bytes:
    from chalkfret.files.text_tab import write_text

    text = write_text(output.lesson, _only(output.section), _only(output.part))
    return text.encode("utf-8", "replace")


def _talk(output: Output) -> bytes:
    from chalkfret.words.talk.text import talk_text, video_text

    if output.kind is Kind.POST:
        text = video_text(output.lesson)
    else:
        text = talk_text(output.lesson, _only(output.section))
    return text.encode("utf-8", "replace")


def _pdf(output: Output) -> bytes:
    from chalkfret.files.pdf import pdf_bytes
    from chalkfret.sheet.layout import SheetRequest

    request = output.request
    options = output.lesson.head.sheet
    if request.paper is not None:
        options = replace(options, paper=request.paper)
    wished = SheetRequest(sections=_only(output.section), parts=_only(output.part), options=options)
    try:
        return pdf_bytes(output.lesson, wished, request.fixed_date)
    except ImportError as error:  # a library of the system that the drawing needs is missing
        raise CannotWrite(fault("export_cannot_draw", reason=str(error))) from error


def _midi(output: Output) -> tuple[bytes, tuple[Fault, ...]]:
    from chalkfret.files.midi import MidiOptions, midi_bytes

    request = output.request
    made = midi_bytes(
        output.lesson,
        MidiOptions(
            sections=_only(output.section),
            parts=_only(output.part),
            speed=request.speed,
            click=request.click is not Click.WITHOUT,
            notes=request.click is not Click.ONLY,
            count_in=request.count_in,
        ),
    )
    return made.data, made.remarks


def _only(id_: str | None) -> tuple[str, ...]:
    return () if id_ is None else (id_,)
