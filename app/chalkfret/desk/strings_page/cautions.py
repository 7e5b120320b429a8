"""What all strings together pull, where the figures come from, and what to be careful of."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from chalkfret.desk.frame import in_colour
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import follow, small, strong
from chalkfret.desk.strings_page.facts import sources, total_words
from chalkfret.model import Setup
from chalkfret.words.text import _


class Cautions(QWidget):
    """Words that follow from the setup; nothing can be pressed here."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self.total = QLabel()
        self.source = small(look)
        self.words = QLabel()
        for label in (self.total, self.words):
            label.setWordWrap(True)
        follow(self, look, lambda: in_colour(self.words, look, "soft"))
        for label in (self.total, self.source, self.words):
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        for widget in (self.total, self.source, strong(look, _("Take care")), self.words):
            column.addWidget(widget)
        follow(self, look, lambda: column.setSpacing(look.unit()))

    def show_setup(self, setup: Setup) -> None:
        """Say what follows from this setup."""
        from chalkfret.strings.cautions import cautions
        from chalkfret.words.strings import caution_words

        self.total.setText(total_words(setup))
        source = sources(setup)
        self.source.setText(source)
        self.source.setVisible(bool(source))
        self.words.setText("\n".join(caution_words(each) for each in cautions(setup)))
