"""How often the answer is the label's, how often it is among the first, and at what cost."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from statistics import median
from time import process_time
from typing import NamedTuple

from chalkfret.model import Mode
from chalkfret.theory.mode_finding.candidates import candidates, scores
from chalkfret.theory.mode_finding.evidence import Heard, count
from chalkfret.theory.mode_finding.hearing import heard
from chalkfret.theory.mode_finding.weights import USUAL
from tests.reference.modes.riffs import riffs
from tests.reference.modes.tunes import Tune


class Asked(NamedTuple):
    """Notes with the answer that is expected."""

    notes: tuple[Heard, ...]
    ended: bool
    tonic: int
    mode: Mode


class Share(NamedTuple):
    """Shares of right answers, 0 to 1, and of how many."""

    count: int
    exact: float
    neither: float  # exact, of those that are neither major nor minor
    first_two: float
    first_three: float


def openings(tunes: Iterable[Tune], bars: int | None) -> list[Asked]:
    """What is asked of tunes: all of each, or its first bars."""
    found = [Asked(one.opening(bars), bars is None, one.tonic, one.mode) for one in tunes]
    return [one for one in found if len(one.notes) > 2]


def made() -> list[Asked]:
    """What is asked of the made riffs, which loop."""
    return [
        Asked(
            heard(one.lesson.sections[0].bars, tuple(part.setup for part in one.lesson.parts)),
            False,
            one.tonic,
            one.mode,
        )
        for one in riffs()
    ]


def share(asked: Sequence[Asked], usual: Mapping[Mode, float] = USUAL) -> Share:
    """How often the answers are right."""
    ranks: list[int] = []
    for one in asked:
        ranked = scores(count(one.notes, one.ended), usual)
        answers = [(tonic, mode) for _score, tonic, mode in ranked]
        ranks.append(answers.index((one.tonic, one.mode)))
    rare = [
        rank for rank, one in zip(ranks, asked, strict=True)
        if one.mode not in (Mode.MAJOR, Mode.MINOR)
    ]  # fmt: skip
    return Share(
        len(ranks),
        _among(ranks, 1),
        _among(rare, 1),
        _among(ranks, 2),
        _among(ranks, 3),
    )


def _among(ranks: list[int], first: int) -> float:
    return sum(rank < first for rank in ranks) / len(ranks) if ranks else 0.0


def times_faster(tunes: Sequence[Tune]) -> float:
    """How often our call, reasons included, fits into one of music21's analysis, side by side."""
    ours, theirs = [], []
    for tune in tunes:
        ours.append(_seconds(lambda notes=tune.notes: candidates(notes, ended=True)))
        theirs.append(_seconds(lambda stream=tune.stream: stream.analyze("key")))
    return median(theirs) / median(ours)


def _seconds(call: Callable[[], object]) -> float:
    # Of the processor: what else runs beside it must not count.
    start = process_time()
    call()
    return process_time() - start
