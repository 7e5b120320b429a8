"""Which real gauge gives a wanted pull: string by string, as whole sets, and from bought sets.

Conventions
-----------
- Real gauges are the rows of the published table (``weights``) in the string's own kind. Lengths,
  pitches and A4 are the setup's own, string by string, so fan-fretted guitars come out right.
- Within a kind the weight rises with the gauge, so the best gauge is one of two neighbours; tests
  try all. Equal distances go to the thinner string.
- A set's spread is its highest pull over its lowest, less one, in percent: 0 is perfectly even.
- The bought sets are those that shops have (common practice, from memory), thin to thick; ``w``
  marks a wound third. Another brand's set of the same gauges pulls a little differently.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from chalkfret.model.setup import Course, GuitarString, Setup, Winding
from chalkfret.strings.retune import in_standard
from chalkfret.strings.tension import (
    HEAVIEST_COMMON,
    LIGHTEST_COMMON,
    MAKERS_G,
    MM_PER_INCH,
    frequency,
    pull_lb,
    tension,
)
from chalkfret.strings.weights import table

WORTH_CHANGING: Final = 0.05  # share of the wanted pull that is worth another gauge (our judgement)
THICKEST_PLAIN: Final = 0.026  # plain strings above are hardly sold


class RealGauge(Struct, frozen=True):
    """A real gauge in inches and its pull on the guitar it was looked up for."""

    gauge: float
    winding: Winding
    lb: float


class StringSet(Struct, frozen=True):
    """A whole set on a guitar, physical strings in the setup's order; ``name`` of a bought one."""

    strings: tuple[RealGauge, ...]
    name: str = ""

    @property
    def spread_percent(self) -> float:
        """How much more the tightest string pulls than the loosest."""
        pulls = [one.lb for one in self.strings]
        return 100 * (max(pulls) / min(pulls) - 1)

    @property
    def is_common(self) -> bool:
        """Whether every string pulls as common sets do in standard tuning."""
        return all(LIGHTEST_COMMON <= one.lb <= HEAVIEST_COMMON for one in self.strings)

    @property
    def total_lb(self) -> float:
        """The pull of all strings."""
        return sum(one.lb for one in self.strings)


class Swap(Struct, frozen=True):
    """A string of a bought set to be changed; ``string`` counts from 0, treble first."""

    string: int
    bought: RealGauge
    better: RealGauge


class Nearest(Struct, frozen=True):
    """The bought set that comes nearest to wanted pulls, and what to change in it."""

    bought: StringSet
    swaps: tuple[Swap, ...]


_SETS: Final = """
8-38: .008 .010 .015 .021 .030 .038
9-42: .009 .011 .016 .024 .032 .042
9-46: .009 .011 .016 .026 .036 .046
10-46: .010 .013 .017 .026 .036 .046
10-52: .010 .013 .017 .030 .042 .052
11-49: .011 .014 .018 .028 .038 .049
11-52: .011 .014 .018 .030 .042 .052
11-56: .011 .014 .019 .032 .044 .056
12-52: .012 .016 .024w .032 .042 .052
12-54: .012 .016 .020 .032 .042 .054
12-60: .012 .016 .020 .034 .046 .060
13-56: .013 .017 .026w .036 .046 .056
13-62: .013 .017 .026w .036 .046 .062
14-68: .014 .018 .026w .044 .056 .068
9-54: .009 .011 .016 .024 .032 .042 .054
10-59: .010 .013 .017 .026 .036 .046 .059
10-62: .010 .013 .017 .030 .042 .052 .062
11-64: .011 .014 .018 .028 .038 .049 .064
9-65: .009 .011 .016 .024 .032 .042 .054 .065
10-74: .010 .013 .017 .030 .042 .054 .064 .074
"""


@lru_cache(maxsize=1)
def bought_sets() -> tuple[tuple[str, tuple[tuple[float, bool], ...]], ...]:
    """Names of bought sets and their strings thin to thick: the gauge, and whether it is wound."""
    sets = []
    for line in _SETS.strip().splitlines():
        name, _, row = line.partition(": ")
        strings = tuple((float(one.rstrip("w")), one.endswith("w") or float(one) > 0.0205)
                        for one in row.split())  # fmt: skip
        sets.append((name, strings))
    return tuple(sets)


def physical(setup: Setup) -> tuple[GuitarString, ...]:
    """Every string of a setup, course 1 first."""
    return tuple(string for course in setup.courses for string in course.strings)


def pull_with(string: GuitarString, setup: Setup, gauge: float, winding: Winding) -> float | None:
    """The pull in lb of another gauge in a string's place."""
    other = replace(string, gauge=gauge, winding=winding, unit_weight=None, core_gauge=None)
    pull = tension(other, setup)
    return None if pull is None else pull.lb


def gauges_of(winding: Winding) -> tuple[tuple[float, float], ...]:
    """The real gauges of a kind with their unit weights; none where the table has no such kind."""
    rows = table().get(winding, ())
    if winding is not Winding.PLAIN:
        return rows
    return tuple(row for row in rows if row[0] <= THICKEST_PLAIN)


def best_gauge(string: GuitarString, setup: Setup, wanted_lb: float) -> RealGauge | None:
    """The real gauge of the string's own kind whose pull is nearest to the wanted one, in lb.

    None where the table has no strings of its kind.
    """
    rows = gauges_of(string.winding)
    if not rows:
        return None
    length = setup.scale_of(string) / MM_PER_INCH * 2.0 ** (-string.first_fret / 12.0)
    hz = frequency(string, setup.a4)
    weights = [weight for _gauge, weight in rows]
    wanted = wanted_lb * MAKERS_G / (2.0 * length * hz) ** 2
    at = bisect_left(weights, wanted)
    near = range(max(0, at - 1), min(len(rows), at + 1))
    best = min(near, key=lambda index: abs(weights[index] - wanted))
    gauge, weight = rows[best]
    return RealGauge(gauge, string.winding, pull_lb(weight, length, hz))


def as_in_standard(setup: Setup) -> tuple[float | None, ...]:
    """What each string pulls with the same gauges in standard tuning: the feel one knows, in lb."""
    home = in_standard(setup)
    pulls = (tension(string, home) for string in physical(home))
    return tuple(None if pull is None else pull.lb for pull in pulls)


def as_bought(setup: Setup, name: str) -> tuple[float, ...]:
    """What a bought set's strings pull on this guitar in standard tuning, in lb; () if none is so
    called for so many strings."""
    sets = sets_on(in_standard(setup))
    found = next((one for one in sets if one.name == name), None)
    return () if found is None else tuple(one.lb for one in found.strings)


def best_set(setup: Setup, wanted: Sequence[float | None]) -> tuple[RealGauge | None, ...]:
    """The best real gauge for each string's wanted pull; None where either is not known."""
    return tuple(
        None if lb is None else best_gauge(string, setup, lb)
        for string, lb in zip(physical(setup), wanted, strict=True)
    )


def even_sets(
    setup: Setup, least_lb: float = LIGHTEST_COMMON, most_lb: float = HEAVIEST_COMMON
) -> tuple[StringSet, ...]:
    """Whole sets of real gauges by spread, the most even first, all pulls within two bounds.

    For each pull that can be the lowest, every other string takes the least pull that is no lower:
    no set with that lowest pull is more even, so the first set is the most even of all.
    """
    choices = [list(_choices(string, setup, least_lb, most_lb)) for string in physical(setup)]
    if not all(choices):
        return ()
    found: dict[tuple[float, ...], StringSet] = {}
    for lowest in sorted({one.lb for choice in choices for one in choice}):
        picked = []
        for choice in choices:
            enough = next((one for one in choice if one.lb >= lowest), None)
            if enough is not None:
                picked.append(enough)
        if len(picked) == len(choices):
            found.setdefault(tuple(one.gauge for one in picked), StringSet(tuple(picked)))
    return tuple(sorted(found.values(), key=lambda one: (one.spread_percent, one.total_lb)))


def _choices(
    string: GuitarString, setup: Setup, least_lb: float, most_lb: float
) -> Iterator[RealGauge]:
    """The real gauges of a string within two bounds, thin to thick."""
    for gauge, _weight in gauges_of(string.winding):
        lb = pull_with(string, setup, gauge, string.winding)
        if lb is not None and least_lb <= lb <= most_lb:
            yield RealGauge(gauge, string.winding, lb)


def sets_on(setup: Setup) -> tuple[StringSet, ...]:
    """The bought sets on this guitar, the most even first; none for courses of several strings.

    Those that leave a string slacker or tighter than common sets are behind all others.
    """
    strings = physical(setup)
    wound = next(
        (one.winding for one in reversed(strings) if one.winding in _WOUND), Winding.NICKEL_ROUND
    )
    found = []
    if len(strings) == len(setup.courses):
        for name, row in bought_sets():
            if len(row) == len(strings):
                found.append(_on(strings, setup, name, row, wound))
    return tuple(sorted(found, key=lambda one: (not one.is_common, one.spread_percent)))


_WOUND: Final = (
    Winding.NICKEL_ROUND, Winding.STEEL_ROUND, Winding.STEEL_FLAT, Winding.BRONZE_ROUND,
)  # fmt: skip


def _on(
    strings: Sequence[GuitarString], setup: Setup, name: str,
    row: Sequence[tuple[float, bool]], wound: Winding,
) -> StringSet:  # fmt: skip
    found = []
    for string, (gauge, is_wound) in zip(strings, row, strict=True):
        winding = wound if is_wound else Winding.PLAIN
        lb = pull_with(string, setup, gauge, winding)
        assert lb is not None, "every kind of a bought set has weights"
        found.append(RealGauge(gauge, winding, lb))
    return StringSet(tuple(found), name)


def nearest_bought(setup: Setup, wanted: Sequence[float | None]) -> Nearest | None:
    """The bought set whose pulls are nearest to the wanted ones, and what to change in it.

    Near is the least sum of differences in lb. None where no set has so many strings or nothing
    is wanted.
    """
    goals = [(at, lb) for at, lb in enumerate(wanted) if lb is not None]
    sets = sets_on(setup)
    if not sets or not goals:
        return None

    def apart(one: StringSet) -> float:
        return sum(abs(one.strings[at].lb - lb) for at, lb in goals)

    best = min(sets, key=apart)
    strings = physical(setup)
    swaps = []
    for at, lb in goals:
        bought = best.strings[at]
        better = best_gauge(replace(strings[at], winding=bought.winding), setup, lb)
        if better is not None and abs(bought.lb - lb) - abs(better.lb - lb) > WORTH_CHANGING * lb:
            swaps.append(Swap(at, bought, better))
    return Nearest(best, tuple(swaps))


def strung_with(setup: Setup, strings: Sequence[RealGauge | None]) -> Setup:
    """The setup with these strings in order, course 1 first; None leaves a string as it is."""
    each = iter(strings)
    courses = tuple(
        Course(tuple(_restrung(string, next(each)) for string in course.strings))
        for course in setup.courses
    )
    return replace(setup, courses=courses)


def _restrung(string: GuitarString, found: RealGauge | None) -> GuitarString:
    if found is None or (string.gauge, string.winding) == (found.gauge, found.winding):
        return string
    return replace(
        string, gauge=found.gauge, winding=found.winding, core_gauge=None, unit_weight=None
    )
