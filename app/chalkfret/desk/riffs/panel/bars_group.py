"""Meter, grouping, repeats and endings of the bars that are selected."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from PySide6.QtWidgets import QCheckBox

from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.beside import Beside
from chalkfret.desk.pieces.choice import Choice
from chalkfret.desk.pieces.dress import small
from chalkfret.desk.pieces.fields import Field
from chalkfret.desk.riffs.panel.group import SectionGroup
from chalkfret.desk.riffs.panel.readers import (
    grouping_reader,
    number_reader,
    read_meter,
    read_passes,
    stepped,
    whole_reader,
    write_meter,
    write_optional,
)
from chalkfret.edits import bars, meters, repeats
from chalkfret.model import BarHead, Lesson, Meter, Pause, PauseKind, Place, Section, limits
from chalkfret.model.meter import usual_grouping
from chalkfret.words.text import N_, _, said

_BREAKS: Final = {
    None: N_("as it fits"),
    "system": N_("on a new line"),
    "page": N_("on a new page"),
}


class BarsGroup(SectionGroup):
    """The heads of bars.

    ``bars_meant`` gives the first bar that is meant and how many are, ``place`` where the cursor
    is, ``heads_seen`` a number that is another one whenever a bar's head differs.
    """

    def __init__(
        self,
        document: Document,
        look: Look,
        bars_meant: Callable[[], tuple[int, int]],
        place: Callable[[], tuple[Place, str]],
        heads_seen: Callable[[], int],
    ) -> None:
        super().__init__(document, look, _("Bars"))
        self._meant, self._place, self._heads_seen = bars_meant, place, heads_seen
        self._shown: tuple[object, ...] | None = None
        self._where = small(look)
        self.meter = self._field(_("Meter"), read_meter, write_meter, self._set_meter)
        self.grouping = self._field(
            _("Groups"),
            grouping_reader(lambda: self._head.meter),
            lambda groups: "+".join(map(str, groups)),
            self._set_grouping,
        )
        most = limits.TIMES_MAX
        self.times = self._field(
            _("Repeat, times in all"),
            whole_reader(1, most, _("Times in all, from 1 to {most}.").format(most=most), empty=1),
            lambda times: str(times) if times > 1 else "",
            self._set_times,
            lambda times, steps: int(stepped(1, most)(times, steps)),
        )
        self.times.setPlaceholderText(_("not repeated"))
        self.passes = self._field(
            _("Only in passes"),
            read_passes,
            lambda passes: " ".join(map(str, passes)),
            self._set_passes,
        )
        self.passes.setPlaceholderText(_("in all"))
        self.pickup = self._field(
            _("Pickup, beats"),
            number_reader(
                0.125, 32, _("A pickup is the number of beats that are left of the bar."), None
            ),
            write_optional,
            self._set_pickup,
        )
        self.pickup.setPlaceholderText(_("full bar"))
        self.fermata = self._pause_field(_("Fermata at the cursor, in seconds"), PauseKind.FERMATA)
        self.silence = self._pause_field(_("Break at the cursor, in seconds"), PauseKind.BREAK)
        self.break_after = Choice(
            said(_BREAKS),
            _("Behind the bar, the sheet goes on"),
        )
        self.break_after.chosen.connect(
            lambda kind: self._wish(_("the break behind a bar"), break_after=kind)
        )
        self.simile = QCheckBox(_("Sign for “as the bar before”"))
        self.simile.setToolTip(_("Printed where the bar is the same as the one before it"))
        self.simile.clicked.connect(lambda on: self._wish(_("the sign of a bar"), simile=on))
        self.add_wide(self._where)
        self.add(_("Meter"), self.meter)
        self.add(_("Groups"), self.grouping)
        self.add(_("Repeat, times in all"), self.times)
        self.add(_("Only in passes"), self.passes)
        self.add(_("Pickup, beats"), self.pickup)
        self.add(_("Fermata, break (s)"), Beside(look, self.fermata, self.silence))
        self.add(_("Sheet goes on"), self.break_after)
        self.add_wide(self.simile)

    @property
    def _head(self) -> BarHead:
        return self.section.bars[self._meant()[0]].head

    def show_section(self, section: Section) -> None:
        first, count = self._meant()
        head = section.bars[first].head
        tick = self._place()[0].tick
        letter = section.head.letter
        now = (self._document.section, letter, first, count, tick, self._heads_seen())
        if now == self._shown:
            return
        self._shown = now
        self.title.setText(_("Bars, section {letter}").format(letter=letter))
        text = _("bar {first}") if count == 1 else _("bars {first} to {last}")
        self._where.setText(text.format(first=first + 1, last=first + count))
        self.meter.show_value(head.meter)
        self.grouping.setPlaceholderText("+".join(map(str, usual_grouping(head.meter))))
        self.grouping.show_value(head.grouping)
        around = repeats.repeat_around(section.bars, first)
        self.times.show_value(1 if around is None else around.times)
        self.passes.show_value(head.passes)
        unit = head.meter.unit_ticks
        self.pickup.show_value(None if head.pickup is None else head.pickup / unit)
        self.break_after.show_value(head.break_after)
        self.simile.setChecked(head.simile)
        for field, kind in (
            (self.fermata, PauseKind.FERMATA),
            (self.silence, PauseKind.BREAK),
        ):
            here = [one.seconds for one in head.pauses if (one.tick, one.kind) == (tick, kind)]
            field.show_value(here[0] if here else None)

    def _pause_field(self, name: str, kind: PauseKind) -> Field:
        field = self._field(
            name,
            number_reader(0.05, limits.PAUSE_MAX, _("Seconds, up to 600; nothing: none."), None),
            write_optional,
            lambda seconds: self._set_pause(kind, seconds),
        )
        field.setPlaceholderText(_("none"))
        field.setToolTip(name)
        return field

    def _set_pause(self, kind: PauseKind, seconds: float | None) -> None:
        place = self._place()[0]
        head = self.section.bars[place.bar].head
        kept = tuple(one for one in head.pauses if (one.tick, one.kind) != (place.tick, kind))
        pauses = kept if seconds is None else (*kept, Pause(place.tick, kind, seconds))
        section = self._document.section
        self._attempt(
            _("a pause"),
            lambda lesson: bars.set_head(lesson, section, place.bar, 1, pauses=pauses),
            ("pause", kind, place),
        )

    def _edit(self, what: str, edit: Callable[[Lesson, int, int, int], Lesson]) -> None:
        first, count = self._meant()
        section = self._document.section
        self._attempt(what, lambda lesson: edit(lesson, section, first, count), (what, first))

    def _wish(self, what: str, **fields: object) -> None:
        self._edit(what, lambda lesson, section, first, count: bars.set_head(
            lesson, section, first, count, **fields
        ))  # fmt: skip

    def _set_meter(self, meter: Meter) -> None:
        self._edit(_("the meter"), lambda lesson, section, first, count: meters.set_meter(
            lesson, section, first, count, meter
        ))  # fmt: skip

    def _set_grouping(self, groups: tuple[int, ...]) -> None:
        self._edit(_("the groups"), lambda lesson, section, first, count: bars.set_head(
            lesson, section, first, count, grouping=groups
        ))  # fmt: skip

    def _set_times(self, times: int) -> None:
        first, count = self._meant()
        around = repeats.repeat_around(self.section.bars, first)
        if around is not None and count == 1:
            first, count = around.first, around.last - around.first + 1
        section = self._document.section
        self._attempt(
            _("the repeat"),
            lambda lesson: repeats.set_repeat(lesson, section, first, count, times),
            ("repeat", first),
        )

    def _set_passes(self, passes: tuple[int, ...]) -> None:
        self._edit(_("the passes"), lambda lesson, section, first, count: repeats.set_passes(
            lesson, section, first, count, passes
        ))  # fmt: skip

    def _set_pickup(self, beats: float | None) -> None:
        ticks = None if beats is None else round(beats * self._head.meter.unit_ticks)
        self._edit(_("the pickup"), lambda lesson, section, first, _count: meters.set_pickup(
            lesson, section, first, ticks
        ))  # fmt: skip
