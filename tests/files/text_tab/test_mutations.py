"""Texts with slips of the hand: samples and demo lessons with signs changed, lost and doubled.

Whatever comes of a slip, the reader gives a sound lesson, and one that comes back from its text.
"""

from random import Random

import pytest

from chalkfret.files.lesson_file import load
from chalkfret.files.text_tab import carried, read_text, write_text
from chalkfret.places import DEMO_LESSONS
from tests.edits.tidy import check_sound
from tests.files.text_tab.test_samples import SAMPLES, opened
from tests.fuzz import SEED, tries

SIGNS = "-|0123456789hp/\\b~x()<>[]=:*o+ \n\tqesPM.,r"


def slipped(text: str, dice: Random) -> str:
    """The text with one to twelve slips."""
    signs = list(text)
    for _ in range(dice.randint(1, 12)):
        at = dice.randrange(len(signs) + 1)
        match dice.randrange(4):
            case 0:
                signs[at : at + 1] = dice.choice(SIGNS)
            case 1:
                del signs[at : at + dice.randint(1, 30)]
            case 2:
                again = dice.randrange(len(signs) + 1)
                signs[at:at] = signs[again : again + dice.randint(1, 80)]
            case _:
                signs.insert(at, dice.choice(SIGNS))
    return "".join(signs)


@pytest.mark.fuzz
def test_slips_of_the_hand_give_sound_lessons() -> None:
    dice = Random(SEED)
    texts = [opened(path)[1] for path in SAMPLES]
    texts += [write_text(load(path))[:3000] for path in DEMO_LESSONS.glob("*.chalkfret")]
    found = 0
    for _ in range(tries(400, 20_000)):
        text = slipped(dice.choice(texts), dice)
        lesson = read_text(text).lesson
        if lesson is None:
            continue
        found += 1
        check_sound(lesson)
        assert read_text(write_text(lesson)).lesson == carried(lesson), text
    assert found > 100
