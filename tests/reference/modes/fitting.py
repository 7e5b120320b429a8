"""How the weights came about: ``python -m tests.reference.modes.fitting [TUNES]``.

A conditional logit over all tonics and modes, minimised by gradient steps with momentum over the
dance tunes, Palestrina and the made riffs together. First each collection is left out in turn, and
the weights of the others are tried on it; then the weights of all are printed, rounded. What was
set by judgement afterwards stands in ``theory/mode_finding/weights.py``.
"""

from __future__ import annotations

import sys
from collections import Counter
from typing import Final, NamedTuple

import numpy as np

from chalkfret.model import Mode
from chalkfret.theory.mode_finding.candidates import roles
from chalkfret.theory.mode_finding.evidence import count
from chalkfret.theory.mode_finding.weights import MOST_NOTES, PRESENT, Role
from tests.reference.modes.agreement import Asked, made, openings
from tests.reference.modes.tunes import FOLK, PALESTRINA, tunes

_MODES: Final = tuple(Mode)
_WEIGHT: Final = {PALESTRINA: 0.1, "riffs": 0.2}  # of a collection; each of dance tunes: its share
_RARE: Final = -0.4  # a tune counts by this power of the number of its mode's
_STEPS: Final = 200
_RIDGE: Final = 2e-4
_ROLES: Final = len(PRESENT)
_ROLE_OF: Final = np.array([roles(mode) for mode in _MODES])
_PLACES: Final = ("bass", "first", "last", "low_open")
_NAMES: Final = (
    *(f"{kind} {role.name}" for kind in ("share", "present") for role in Role),
    *(f"{place} {role}" for place in _PLACES for role in ("HOME", "FIFTH")),
    *(mode.value for mode in _MODES),
)


class Rows(NamedTuple):
    """Features of every candidate (asked, candidate, feature), the right one, and the weight."""

    features: np.ndarray
    right: np.ndarray
    weight: np.ndarray


def rows(asked: list[Asked], weight: float) -> Rows:
    """The rows of what is asked, of which all together have this weight."""
    common = Counter(one.mode for one in asked)
    each = np.array([common[one.mode] ** _RARE for one in asked])
    right = [one.tonic * len(_MODES) + _MODES.index(one.mode) for one in asked]
    return Rows(
        np.stack([_features(one) for one in asked]), np.array(right), weight * each / each.sum()
    )


def _features(one: Asked) -> np.ndarray:
    counts = count(one.notes, one.ended)
    root = min(counts.notes, MOST_NOTES) ** 0.5
    found = np.zeros((12, len(_MODES), len(_NAMES)), np.float32)
    at = np.arange(len(_MODES))
    for tonic in range(12):
        for semitones in range(12):
            pitch, role = (tonic + semitones) % 12, _ROLE_OF[:, semitones]
            found[tonic, at, role] += counts.share[pitch] * root
            found[tonic, at, _ROLES + role] += counts.present[pitch]
            for place, name in enumerate(_PLACES):
                here = getattr(counts, name)[pitch]
                found[tonic, role == Role.HOME, 2 * _ROLES + 2 * place] += here
                found[tonic, role == Role.FIFTH, 2 * _ROLES + 2 * place + 1] += here
        found[tonic, at, len(_NAMES) - len(_MODES) + at] = 1.0
    return found.reshape(12 * len(_MODES), -1)


def fit(given: list[Rows]) -> np.ndarray:
    """The weights under which the right candidates are likeliest."""
    features = np.concatenate([one.features for one in given])
    right = np.concatenate([one.right for one in given])
    each = np.concatenate([one.weight for one in given])
    each = (each / each.sum()).astype(np.float32)
    weights = np.zeros(len(_NAMES))
    mean, square = np.zeros_like(weights), np.zeros_like(weights)
    for step in range(1, _STEPS + 1):
        likely = features @ weights.astype(np.float32)
        likely = np.exp(likely - likely.max(1, keepdims=True))
        likely /= likely.sum(1, keepdims=True)
        likely[np.arange(len(right)), right] -= 1
        likely *= each[:, None]
        slope = likely.reshape(-1) @ features.reshape(-1, len(_NAMES)) + _RIDGE * weights
        mean, square = 0.9 * mean + 0.1 * slope, 0.99 * square + 0.01 * slope**2
        stride = (mean / (1 - 0.9**step)) / (np.sqrt(square / (1 - 0.99**step)) + 1e-8)
        weights -= (0.15 if step < _STEPS / 2 else 0.07) * stride
    return weights


def exact(given: Rows, weights: np.ndarray) -> float:
    """The share of right answers."""
    return float(((given.features @ weights).argmax(1) == given.right).mean())


def main(most: int) -> int:
    """Print what each collection says of weights fitted to the others, and the weights of all."""
    read = {name: list(tunes(name, most)) for name in (*FOLK, PALESTRINA)}
    dances = sum(len(read[name]) for name in FOLK)
    given = {"riffs": [rows(made(), 3 * _WEIGHT["riffs"])]}
    for name, group in read.items():
        weight = _WEIGHT.get(name, len(group) / dances)
        given[name] = [rows(openings(group, bars), weight) for bars in (None, 4, 2)]
    print("left out of the fit, then asked: exact (whole, 4 bars, 2 bars; the riffs at once)")
    for left in given:
        weights = fit([one for name, some in given.items() if name != left for one in some])
        print(f"{left:16}", "  ".join(f"{exact(one, weights):.0%}" for one in given[left]))
    weights = fit([one for some in given.values() for one in some])
    print("\n".join(f"{name:28} {w:5.1f}" for name, w in zip(_NAMES, weights, strict=True)))
    return 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 150))
