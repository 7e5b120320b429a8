"""What each command does. Whatever is slow to import is imported where it is used."""

from __future__ import annotations

import gc
from argparse import Namespace
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
from chalkfret.files.trouble import BadFile, FileTrouble
from chalkfret.model import Lesson
from chalkfret.words.text import _


def open_window(options: Namespace) -> int:
    """``open``: the window, until it is closed."""
    from chalkfret.system import display_fault

    fault = display_fault()
    if fault is not None:
        complain(fault)
        return SYSTEM
    # A start makes much and lets go of nothing: the window collects by itself (desk/collecting.py).
    gc.disable()
    try:
        from chalkfret.desk.app import main
    except ImportError as error:  # a library of the system that the window needs is missing
        complain(_("The window cannot be opened here: {reason}. `python3 app open` of a checkout "
                   "names the packages that help.").format(reason=error))  # fmt: skip
        return SYSTEM
    code: int = main(options.lesson)
    return code


def check(options: Namespace) -> int:
    """``check``: faults and remarks of each lesson."""
    from chalkfret.files.lesson_file import load
    from chalkfret.words.remarks import remarks

    worst = GOOD
    report: list[dict[str, Any]] = []
    for path in options.lessons:
        faults: Sequence[Any] = ()
        found: Sequence[Any] = ()
        try:
            found = remarks(load(path))
        except FileTrouble as trouble:
            faults = trouble.faults
            worst = max(worst, _code(trouble))
        report.append(
            {"file": str(path), "faults": plain_faults(faults), "remarks": plain_faults(found)}
        )
        if not options.json:
            _say_checked(path, sentences(faults), sentences(found))
    if options.json:
        say_json(report)
    return worst


def _say_checked(path: Path, faults: list[str], remarks: list[str]) -> None:
    if not faults and not remarks:
        say(_("{file}: nothing to remark.").format(file=path))
    for line in faults:
        say(_("{file}: fault: {sentence}").format(file=path, sentence=line))
    for line in remarks:
        say(_("{file}: remark: {sentence}").format(file=path, sentence=line))


def export(options: Namespace) -> int:
    """``export``: sheets and previews."""
    from chalkfret.cli.exporting import export as exported

    return exported(options)


def explain(options: Namespace) -> int:
    """``explain``: everything that is computed, as text or JSON."""
    lesson = _loaded(options.lesson)
    if isinstance(lesson, int):
        return lesson
    from chalkfret.files.explain import explain as explained

    value = explained(lesson)
    if options.json:
        say_json(value)
    else:
        from chalkfret.cli.explained_text import lines

        for line in lines(value, lesson.head.note_naming):
            say(line)
    return GOOD


def retune(options: Namespace) -> int:
    """``retune``: the card to another tuning."""
    lesson = _loaded(options.lesson)
    if isinstance(lesson, int):
        return lesson
    from chalkfret.cli.retuning import retune as said

    return said(lesson, options)


def talk(options: Namespace) -> int:
    """``talk``: what to say on camera, or to write under the video."""
    lesson = _loaded(options.lesson)
    if isinstance(lesson, int):
        return lesson
    from chalkfret.cli.talking import talk as said

    return said(lesson, options)


def schema(options: Namespace) -> int:
    """``schema``: a JSON Schema."""
    from chalkfret.files.schema import explain_schema, lesson_schema, schema_text

    made = lesson_schema() if options.format == "lesson" else explain_schema()
    say(schema_text(made).rstrip("\n"))
    return GOOD


def _loaded(path: Path) -> Lesson | int:
    """The lesson, or the exit code after saying what is wrong with it."""
    try:
        from chalkfret.files.lesson_file import load

        return load(path)
    except FileTrouble as trouble:
        for line in sentences(trouble.faults):
            complain(f"{path}: {line}")
        return _code(trouble)


def _code(trouble: FileTrouble) -> int:
    return FAULTY if isinstance(trouble, BadFile) else SYSTEM
