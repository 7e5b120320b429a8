"""The table: notes, keys, keys a note; marks apart.

- ``keys``: presses of keys that write notes, bars, repeats and endings in all guitars, moves
  included; a key counts once, whatever is held with it.
- ``held``: modifiers that went down for them besides.
- ``marks``: marks put afterwards, with how many keys; ``typed``: those left, whose figures are
  typed in the panel. Ties are no marks here, they are counted with the notes.
There at the beginning: title, parts and setups, sections with tempo, meter, key and pickup, each
with its first bar, empty.
"""

from __future__ import annotations

from dataclasses import dataclass

from chalkfret.desk.window import Window
from chalkfret.model import Lesson
from tests.hand.lessons import count_notes, demos, written
from tests.hand.marks import plan_marks
from tests.hand.new_riff import new_riff
from tests.hand.planner import plan
from tests.hand.player import press, window_alone, write
from tests.hand.state import strict

LINE = "{:32}{:>6}{:>6}{:>10}{:>6}{:>11}{:>8}{:>7}{:>6}{:>7}"


@dataclass
class Row:
    """The figures of one lesson, or the sums of several."""

    notes: int = 0
    keys: int = 0
    held: int = 0
    same: bool = True
    marks: int = 0
    mark_keys: int = 0
    typed: int = 0

    def add(self, other: Row) -> None:
        """Count another lesson in."""
        for name in ("notes", "keys", "held", "marks", "mark_keys", "typed"):
            setattr(self, name, getattr(self, name) + getattr(other, name))
        self.same = self.same and other.same

    def line(self, name: str) -> str:
        """The line of the table."""
        return LINE.format(
            name, self.notes, self.keys, f"{self.keys / self.notes:.2f}", self.held,
            f"{(self.keys + self.held) / self.notes:.2f}", "equal" if self.same else "DIFFERS",
            self.marks, self.mark_keys, self.typed,
        )  # fmt: skip


def measured(window: Window, lesson: Lesson) -> Row:
    """A lesson written in the window, then marked."""
    keys = plan(lesson)
    done = write(window, lesson, keys)
    same = written(done) == written(lesson)
    found = plan_marks(done, lesson)
    press(window, found.keys)
    same = same and is_marked(window.document.lesson, lesson, found.left)
    return Row(count_notes(lesson), len(keys), strict(keys) - len(keys), same,
               found.put, len(found.keys), found.left)  # fmt: skip


def is_marked(done: Lesson, lesson: Lesson, left: int) -> bool:
    """Whether all marks are as wanted, but for just so many that are not there."""
    wrong = 0
    pairs = zip(done.sections, lesson.sections, strict=True)
    bars = (both for one, two in pairs for both in zip(one.bars, two.bars, strict=True))
    for one, two in bars:
        for ours, theirs in zip(one.notes, two.notes, strict=True):
            for note, wanted in zip(ours, theirs, strict=True):
                wrong += len(set(note.marks) ^ set(wanted.marks))
    return wrong == left


def print_table() -> int:
    """Write every lesson in the window and print its row; 1 where one comes out otherwise."""
    print(LINE.format("lesson", "notes", "keys", "keys/note", "held", "with held", "value",
                      "marks", "keys", "typed"))  # fmt: skip
    whole, right = Row(), True
    with window_alone() as window:
        for name, lesson in demos().items():
            row = measured(window, lesson)
            whole.add(row)
            print(row.line(name), flush=True)
        print(whole.line("demo catalogue"))
        row = measured(window, new_riff())
        print(row.line("new riff, not tuned for"))
        right = whole.same and row.same
    return 0 if right else 1
