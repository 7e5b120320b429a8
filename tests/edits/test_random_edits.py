"""Any edits in any order: the lesson stays sound, earlier values stay, the untouched is shared."""

from random import Random

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from chalkfret.edits import CannotEdit
from chalkfret.model import Lesson
from tests.edits.random_edits import NOTE_EDITS, OTHER_EDITS
from tests.edits.tidy import (
    check_notes_only,
    check_shared,
    check_sound,
    loose_ties,
    overlaps,
)
from tests.strategies import lessons

EDITS = NOTE_EDITS + OTHER_EDITS


def run(first: Lesson, seeds: list[int], *, tidy: bool) -> None:
    history = [(first, msgspec.json.encode(first))]
    for seed in seeds:
        dice = Random(seed)
        edit = dice.choice(EDITS if seed % 2 else NOTE_EDITS)
        old = history[-1][0]
        try:
            new = edit(old, dice)
        except CannotEdit:
            continue
        check_sound(new)
        if edit in NOTE_EDITS:
            check_notes_only(old, new)
        check_shared(old, new)
        if tidy:
            assert overlaps(new) == [], edit.__name__
            assert loose_ties(new) == [], edit.__name__
        history.append((new, msgspec.json.encode(new)))
    for lesson, written in reversed(history):  # undone step by step to the first value
        assert msgspec.json.encode(lesson) == written


seeds = st.integers(0, 2**32 - 1)


@given(lessons(), st.lists(seeds, min_size=1, max_size=12))
def test_a_few_edits(first: Lesson, seeds: list[int]) -> None:
    run(first, seeds, tidy=True)


@given(lessons(tidy=False), st.lists(seeds, min_size=1, max_size=12))
def test_a_few_edits_of_an_untidy_lesson(first: Lesson, seeds: list[int]) -> None:
    run(first, seeds, tidy=False)


@pytest.mark.slow
@settings(max_examples=max(1, settings().max_examples // 3))
@given(lessons(most_sections=2, most_bars=3), seeds)
def test_two_hundred_edits(first: Lesson, seed: int) -> None:
    dice = Random(seed)
    run(first, [dice.randrange(2**32) for _ in range(200)], tidy=True)
