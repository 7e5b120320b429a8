"""The retune card on the desk: between this setup, standard, sections and the shelf."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from chalkfret.desk.look import Look
from chalkfret.desk.pieces.choice import Choice
from chalkfret.desk.pieces.dress import Wrapped, follow, readable, small, strong
from chalkfret.desk.pieces.flow import FlowRow
from chalkfret.desk.settings import Kept
from chalkfret.desk.shelf import Shelf
from chalkfret.desk.strings_page.words import section_words
from chalkfret.model import Lesson, Setup, setup_in
from chalkfret.strings.retune import in_standard
from chalkfret.strings.turning import RetuneCard, may_retune, retune_card
from chalkfret.words import retuning
from chalkfret.words.text import _

_STANDARD, _THIS = "standard", "this"


class Retuning(QWidget):
    """Two lists to choose setups from, and the card between them."""

    def __init__(self, look: Look, shelf: Kept[Shelf]) -> None:
        super().__init__()
        self._shelf = shelf
        self._setups: dict[str, Setup] = {}
        self._lesson: Lesson | None = None
        self.start = Choice(name=_("From this tuning"))
        self.target = Choice(name=_("To this tuning"))
        self.card = readable(Wrapped())
        self.more = readable(small(look))
        self.card.setWordWrap(True)
        for choice in (self.start, self.target):
            choice.chosen.connect(lambda _key: self._say())
            choice.setSizeAdjustPolicy(Choice.SizeAdjustPolicy.AdjustToContents)
        column = self._column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        ways = FlowRow(small(look, _("from")), self.start, small(look, _("to")), self.target, gap=8)
        for widget in (strong(look, _("Retune card")), ways, self.card, self.more):
            column.addWidget(widget)
        follow(self, look, lambda: column.setSpacing(look.unit()))

    def show_setup(self, lesson: Lesson, part: int, setup: Setup) -> None:
        """Offer the tunings that the strings of this setup can be turned to."""
        self._lesson = lesson
        words = {_STANDARD: _("standard tuning"), _THIS: _("the tuning shown here")}
        setups = {_STANDARD: in_standard(setup), _THIS: setup}
        for section in lesson.sections:
            other = setup_in(section, lesson.parts[part])
            offered = [one for key, one in setups.items() if key != _STANDARD]
            if other not in offered:  # a section in standard is asked for by its name too
                setups[f"section {section.id}"] = other
                words[f"section {section.id}"] = _("section {section}").format(
                    section=section_words(section)
                )
        for other in self._shelf.value.setups:
            setups[f"shelf {other.name}"] = other
            words[f"shelf {other.name}"] = _("{setup}, from my shelf").format(setup=other.name)
        self._setups = {key: one for key, one in setups.items() if may_retune(setup, one)}
        named = {key: words[key] for key in self._setups}
        for choice, usual in ((self.start, _STANDARD), (self.target, _THIS)):
            choice.set_choices(named)
            if choice.value is None:
                choice.show_value(usual)
        self._say()

    def _say(self) -> None:
        if self._lesson is None:
            return
        start, target = self._setups[self.start.value], self._setups[self.target.value]
        card = retune_card(start, target)
        naming = self._lesson.head.note_naming
        lines = []
        for number, turn in enumerate(card.turns, start=1):
            said = [retuning.course_words(turn, naming), retuning.reference_words(turn.reference)]
            said += filter(None, map(retuning.pull_words, turn.strings))
            lines.append(f"{number}.  " + "; ".join(said))
        self.card.setText("\n".join(lines))
        self.card.setVisible(bool(lines))
        self.more.setText("\n".join(_beneath(card)))


def _beneath(card: RetuneCard) -> list[str]:
    """How to go, what stays, what it comes to, and what to be careful of."""
    words = [retuning.left_words(card), retuning.total_words(card)]
    words.append(retuning.other_strings_words(card))
    if card.turns:
        words.insert(0, retuning.how_to())
        words += retuning.card_cautions(card)
    return [one for one in words if one]
