"""Random sessions in the real window: whatever is pressed, the lesson is sound and comes back."""

from collections import Counter

import pytest
from PySide6.QtWidgets import QApplication

from tests.desk.sessions.playing import Player, growing
from tests.fuzz import SEED, tries

SESSIONS = 20
"""In one window, one after the other; each from a fresh lesson."""

pytestmark = pytest.mark.fuzz


@pytest.mark.parametrize("batch", range(tries(5, 250)))
def test_whatever_is_pressed_can_be_undone_to_the_first_value(window, tmp_path, batch):
    """100 sessions of 200 gestures in the checks, 5,000 in a whole round of fuzzing."""
    plain = QApplication.font()
    player = Player(window, f"{SEED} {batch}", tmp_path)
    try:
        for number in range(SESSIONS):
            player.play(number)
        # What is made once and kept may be made late; the same session again makes nothing more.
        counts = [player.census()]
        for _ in range(2):
            player.play(SESSIONS - 1)
            counts.append(player.census())
    finally:
        QApplication.setFont(plain)
    assert not growing(counts), "there is more and more of something"


def test_more_and_more_of_a_kind_is_seen():
    counts = [Counter(a=1, b=5, c=1), Counter(a=2, b=5, c=3), Counter(a=3, b=6, c=2)]
    assert growing(counts) == ["a: 1, 2, 3"]
