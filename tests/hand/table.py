"""The table: notes, keys, keys a note; marks apart.

- ``keys``: presses of keys that write notes, bars, repeats and endings in all guitars, moves
  included; a key counts once, whatever is held with it.
- ``held``: modifiers that went down for them besides.
There at the beginning: title, parts and setups, sections with tempo, meter, key and pickup, each
with its first bar, empty.
"""

from __future__ import annotations

from chalkfret.model import Lesson
from tests.hand.lessons import count_notes, demos, written
from tests.hand.new_riff import new_riff
from tests.hand.planner import plan
from tests.hand.player import window_alone, write
from tests.hand.state import strict

LINE = "{:34}{:>7}{:>7}{:>10}{:>7}{:>12}{:>10}"


def row(name: str, notes: int, keys: int, held: int, same: bool) -> str:
    """A line of the table."""
    return LINE.format(
        name, notes, keys, f"{keys / notes:.2f}", held, f"{(keys + held) / notes:.2f}",
        "equal" if same else "DIFFERS",
    )  # fmt: skip


def print_table() -> int:
    """Write every lesson in the window and print its row; 1 where one comes out otherwise."""
    print(LINE.format("lesson", "notes", "keys", "keys/note", "held", "with held", "value"))
    total = [0, 0, 0]
    wrong = 0
    lessons: dict[str, Lesson] = demos()
    with window_alone() as window:
        for name, lesson in {**lessons, "new riff": new_riff()}.items():
            keys = plan(lesson)
            same = written(write(window, lesson, keys)) == written(lesson)
            wrong += not same
            figures = (count_notes(lesson), len(keys), strict(keys) - len(keys))
            if name in lessons:
                total = [one + other for one, other in zip(total, figures, strict=True)]
            elif name == "new riff":
                print(row("demo catalogue", *total, same=not wrong))
            print(row(name, *figures, same=same), flush=True)
    return 1 if wrong else 0
