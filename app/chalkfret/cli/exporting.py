"""The command ``export``: from letters and names on the command line to files."""

from __future__ import annotations

from argparse import Namespace
from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from chalkfret.cli.say import (
    FAULTY,
    GOOD,
    SYSTEM,
    complain,
    plain_faults,
    say,
    say_json,
    sentences,
)
from chalkfret.files.export import Click, Output, Request, Result, plan, run
from chalkfret.files.lesson_file import load
from chalkfret.files.trouble import BadFile, CannotWrite, FileTrouble
from chalkfret.model import Lesson, fault
from chalkfret.words.text import _


def export(options: Namespace) -> int:
    """``export``: all that is wrong is said before the first file is written."""
    click = _click(options)
    if click is None:
        complain(_("Without click and without notes there is nothing to hear: leave one of them."))
        return SYSTEM
    worst = GOOD
    outputs: list[Output] = []
    for path in options.lessons:
        try:
            outputs += _planned(load(path), path, click, options)
        except FileTrouble as trouble:
            worst = max(worst, FAULTY if isinstance(trouble, BadFile) else SYSTEM)
            for line in sentences(trouble.faults):
                complain(f"{path}: {line}")
    if worst == GOOD and (clash := _clash(outputs)) is not None:
        complain(_("Two of these lessons would both be written to {file}: export them to "
                   "different folders.").format(file=clash))  # fmt: skip
        worst = SYSTEM
    if worst != GOOD:
        return worst
    return _report(run(outputs), options.json)


def _click(options: Namespace) -> Click | None:
    """What ``--click`` and ``--notes`` ask for together; None where nothing would be heard."""
    click = Click(options.click or Click.WITH)
    if options.notes == "with":
        return click
    return None if click is Click.WITHOUT else Click.ONLY


def _planned(lesson: Lesson, path: Path, click: Click, options: Namespace) -> tuple[Output, ...]:
    letters = {section.head.letter: section.id for section in lesson.sections}
    names = {part.name: part.id for part in lesson.parts}
    request = Request(
        folder=options.to,
        kinds=options.kinds,
        sections=tuple(found(split(options.sections, letters), letters, "export_no_section")),
        parts=tuple(found(options.parts, names, "export_no_part")),
        speed=options.speed,
        paper=options.paper,
        click=click,
        count_in=options.count_in,
        fixed_date=options.fixed_date,
    )
    return plan(lesson, path.stem, request, source=path)


def split(texts: Sequence[str], known: dict[str, str]) -> list[str]:
    """``A,B`` as two letters, unless there is one letter of just that form."""
    return [
        word
        for text in texts
        for word in ([text] if text in known else map(str.strip, text.split(",")))
        if word
    ]


def found(wished: Sequence[str], known: dict[str, str], code: str) -> list[str]:
    """The ids of what is named, upper and lower case alike where that is clear."""
    loose = {name.casefold(): id_ for name, id_ in known.items()}
    out = []
    for name in wished:
        id_ = known.get(name) or loose.get(name.casefold())
        if id_ is None:
            raise CannotWrite(fault(code, name=name, known=", ".join(known)))
        out.append(id_)
    return out


def _clash(outputs: Sequence[Output]) -> Path | None:
    counted = Counter(output.path for output in outputs)
    return next((path for path, count in counted.items() if count > 1), None)


def _report(results: Sequence[Result], as_json: bool) -> int:
    failed = [result for result in results if result.faults]
    if as_json:
        say_json([_plain(result) for result in results])
    for result in results:
        for line in sentences(result.faults):
            complain(f"{result.output.path}: {line}")
        if not result.faults and not as_json:
            say(str(result.output.path))
            for line in sentences(result.remarks):
                say(f"  {line}")
    return SYSTEM if failed else GOOD


def _plain(result: Result) -> dict[str, Any]:
    return {
        "file": str(result.output.path),
        "kind": result.output.kind.value,
        "section": result.output.section,
        "part": result.output.part,
        "bytes": result.size,
        "remarks": plain_faults(result.remarks),
        "faults": plain_faults(result.faults),
    }
