"""Actions that move the cursor, alone or with the selection."""

from __future__ import annotations

from collections.abc import Callable

from msgspec.structs import replace

from chalkfret.desk.actions import Action
from chalkfret.desk.document import Document
from chalkfret.desk.riffs import cursor as moves
from chalkfret.desk.riffs.columns import step_starts
from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.desk.riffs.grid import Grid
from chalkfret.desk.riffs.typing import Typist
from chalkfret.model import Lesson
from chalkfret.words.text import N_, _

Move = Callable[[Lesson, Cursor], Cursor]


def _bar_back(lesson: Lesson, cursor: Cursor) -> Cursor:
    if cursor.tick > 0:
        return replace(cursor, tick=0)
    return moves.bar_back(lesson, cursor) or cursor


def _bar_on(lesson: Lesson, cursor: Cursor) -> Cursor:
    return moves.bar_on(lesson, cursor) or _bar_end(lesson, cursor)


def _bar_start(_lesson: Lesson, cursor: Cursor) -> Cursor:
    return replace(cursor, tick=0)


def _bar_end(lesson: Lesson, cursor: Cursor) -> Cursor:
    return replace(cursor, tick=step_starts(moves.head_at(lesson, cursor))[-1])


def _start(_lesson: Lesson, cursor: Cursor) -> Cursor:
    return replace(cursor, section=0, bar=0, tick=0)


def _end(lesson: Lesson, cursor: Cursor) -> Cursor:
    section = len(lesson.sections) - 1
    bar = len(lesson.sections[section].bars) - 1
    return _bar_end(lesson, replace(cursor, section=section, bar=bar, tick=0))


def _section_back(_lesson: Lesson, cursor: Cursor) -> Cursor:
    inside = cursor.bar > 0 or cursor.tick > 0
    section = cursor.section if inside else max(0, cursor.section - 1)
    return replace(cursor, section=section, bar=0, tick=0)


def _section_on(lesson: Lesson, cursor: Cursor) -> Cursor:
    if cursor.section + 1 == len(lesson.sections):
        return cursor
    return replace(cursor, section=cursor.section + 1, bar=0, tick=0)


def _part_up(lesson: Lesson, cursor: Cursor) -> Cursor:
    return moves.kept(lesson, replace(cursor, part=max(0, cursor.part - 1)))


def _part_down(lesson: Lesson, cursor: Cursor) -> Cursor:
    return moves.kept(lesson, replace(cursor, part=cursor.part + 1))


MOVES: tuple[tuple[str, str, str, Move], ...] = (
    ("left", N_("A step to the left"), "Left", moves.step_back),
    ("right", N_("A step to the right"), "Right", moves.step_on),
    ("up", N_("To the string above"), "Up", moves.string_above),
    ("down", N_("To the string below"), "Down", moves.string_below),
    ("bar_back", N_("To the bar before"), "Ctrl+Left", _bar_back),
    ("bar_on", N_("To the next bar"), "Ctrl+Right", _bar_on),
    ("part_up", N_("To the part above"), "Ctrl+Up", _part_up),
    ("part_down", N_("To the part below"), "Ctrl+Down", _part_down),
    ("bar_start", N_("To the beginning of the bar"), "Home", _bar_start),
    ("bar_end", N_("To the end of the bar"), "End", _bar_end),
    (
        "section_back",
        N_("To the beginning of the section, then the one before"),
        "PgUp",
        _section_back,
    ),
    ("section_on", N_("To the next section"), "PgDown", _section_on),
    ("start", N_("To the beginning of the lesson"), "Ctrl+Home", _start),
    ("end", N_("To the end of the lesson"), "Ctrl+End", _end),
)


def move_actions(document: Document, grid: Grid, typist: Typist) -> list[Action]:
    """Each way of moving, and with Shift the same way of selecting."""

    def go(name: str, move: Move, select: bool) -> Callable[[], None]:
        passing = grid.folds.passing(move)

        def run() -> None:
            if select or not typist.steer(name):
                grid.move_to(passing(document.lesson, grid.here), select)

        return run

    def let_go() -> None:
        typist.wait_no_longer()
        grid.let_go()

    made = []
    for name, marked, key, move in MOVES:
        text = _(marked)
        made.append(Action(f"go_{name}", text, (key,), run=go(name, move, select=False)))
        with_selection = _("{what}, selecting").format(what=text)
        made.append(
            Action(
                f"select_{name}", with_selection, (f"Shift+{key}",), run=go(name, move, select=True)
            )
        )
    made.append(Action("select_none", _("Select nothing"), ("Escape",), run=let_go))
    made.append(
        Action("select_section", _("Select the &section"), ("Ctrl+A",), N_("&Edit"),
               lambda: _select_section(document, grid), separated=True)
    )  # fmt: skip
    made.append(
        Action("select_bar", _("Select the &bar in all parts"), ("Ctrl+B",), N_("&Edit"),
               lambda: _select_bar(document, grid))
    )  # fmt: skip
    return made


def _select(document: Document, grid: Grid, first_bar: int, last_bar: int) -> None:
    lesson, cursor = document.lesson, grid.here
    grid.move_to(Cursor(cursor.section, first_bar, 0, 0, 1))
    part = len(lesson.parts) - 1
    courses = len(lesson.parts[part].setup.courses)
    end = _bar_end(lesson, Cursor(cursor.section, last_bar, 0, part, courses))
    grid.move_to(end, select=True)


def _select_section(document: Document, grid: Grid) -> None:
    bars = document.lesson.sections[grid.here.section].bars
    _select(document, grid, 0, len(bars) - 1)


def _select_bar(document: Document, grid: Grid) -> None:
    _select(document, grid, grid.here.bar, grid.here.bar)
