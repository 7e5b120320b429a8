"""Numbers as one types and writes them."""

from __future__ import annotations

from collections.abc import Callable

from chalkfret.desk.pieces.fields import Unreadable


def plain(number: float, digits: int) -> str:
    """A number with at most so many digits after the point and no idle zeros."""
    text = f"{number:.{digits}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def whole(low: int, high: int, sentence: str) -> Callable[[str], int]:
    """A reader of whole numbers from ``low`` to ``high``; ``sentence`` says what they are."""

    def read(text: str) -> int:
        try:
            number = int(text)
        except ValueError:
            raise Unreadable(sentence, unfinished=not text.strip()) from None
        if not low <= number <= high:
            raise Unreadable(sentence, unfinished=number < low)
        return number

    return read


def stepper_within(low: float, high: float) -> Callable[[float, int], float]:
    """A step of a number that stays from ``low`` to ``high``."""
    return lambda number, steps: within(number + steps, low, high)


def within(number: float, low: float, high: float) -> float:
    """The number, or the bound that it goes beyond."""
    return min(high, max(low, number))
