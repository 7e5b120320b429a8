"""What to warn of where strings are chosen or wound, as codes; the sentences are in ``words``.

The dangers are common practice: a string tuned up can snap and its ends fly; a change of total
tension moves the neck and a floating bridge; thick strings may not fit the nut's slots.
"""

from __future__ import annotations

from enum import StrEnum
from functools import lru_cache
from typing import Final

from msgspec import Struct

from chalkfret.model.setup import Setup
from chalkfret.strings.retune import in_standard
from chalkfret.strings.strength import Zone, strength
from chalkfret.strings.tension import LIGHTEST_COMMON, tension, total_tension

# The heaviest string of a common twelve-to-fifty-four set (common practice).
THICKEST_COMMON: Final = 0.054
# A change this great of the whole set's tension asks for a look at the neck (our judgement).
NECK_SHARE: Final = 0.05


class CautionCode(StrEnum):
    """The cautions; the last two belong to sound and practice, not to a setup."""

    STRINGS_SNAP = "strings_snap"
    NECK_AND_BRIDGE = "neck_and_bridge"
    ELASTIC_LIMIT = "elastic_limit"
    PAST_ELASTIC_LIMIT = "past_elastic_limit"
    NUT_SLOTS = "nut_slots"
    LIGHT_STRING = "light_string"
    HEAVY_STRING = "heavy_string"
    MAKERS_MANUAL = "makers_manual"
    ESTIMATES = "estimates"
    LOUD = "loud"
    PRACTICE = "practice"


class Caution(Struct, frozen=True):
    """A caution with the figures its sentence names."""

    code: CautionCode
    course: int | None = None
    lb: float | None = None
    percent: float | None = None


@lru_cache(maxsize=512)
def cautions(setup: Setup, before: Setup | None = None) -> tuple[Caution, ...]:
    """The cautions a setup calls for, the most pressing first.

    ``before`` is how the same strings were tuned; None: in standard tuning.
    """
    home = in_standard(setup) if before is None else before
    found = [Caution(CautionCode.STRINGS_SNAP)]
    found.extend(_near_breaking(setup))
    if _pitches(setup) != _pitches(home):
        known = not total_tension(setup).unknown
        standard_lb = total_tension(home).lb
        change = total_tension(setup).lb - standard_lb if known else None
        if change is None or abs(change) >= NECK_SHARE * standard_lb:
            found.append(Caution(CautionCode.NECK_AND_BRIDGE, lb=change))
    found.extend(_outside_common_sets(setup))
    gauges = [string.gauge or 0.0 for course in setup.courses for string in course.strings]
    if max(gauges) > THICKEST_COMMON:
        found.append(Caution(CautionCode.NUT_SLOTS))
    found.append(Caution(CautionCode.MAKERS_MANUAL))
    if total_tension(setup).lb:
        found.append(Caution(CautionCode.ESTIMATES))
    return tuple(found)


def _pitches(setup: Setup) -> list[float]:
    return [string.midi for course in setup.courses for string in course.strings]


def _near_breaking(setup: Setup) -> list[Caution]:
    found: list[Caution] = []
    for number, course in enumerate(setup.courses, start=1):
        for string in course.strings:
            share = strength(string, setup)
            if share is not None and share.zone is not Zone.BELOW:
                past = share.zone is Zone.PAST_LIMIT
                code = CautionCode.PAST_ELASTIC_LIMIT if past else CautionCode.ELASTIC_LIMIT
                found.append(Caution(code, course=number, percent=share.percent))
    return found


def _outside_common_sets(setup: Setup) -> list[Caution]:
    found: list[Caution] = []
    for number, course in enumerate(setup.courses, start=1):
        for string in course.strings:
            pull = tension(string, setup)
            if pull is not None and pull.outside_common_sets:
                light = pull.lb < LIGHTEST_COMMON
                code = CautionCode.LIGHT_STRING if light else CautionCode.HEAVY_STRING
                found.append(Caution(code, course=number, lb=pull.lb))
    return found
