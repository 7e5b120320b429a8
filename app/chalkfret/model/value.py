"""What all values of a lesson have in common."""

from __future__ import annotations

from functools import lru_cache
from typing import get_args, get_type_hints

from msgspec import Struct
from msgspec.structs import force_setattr


class Value(Struct, frozen=True, forbid_unknown_fields=True):
    """A part of a lesson: never changed, and strict about the keys that a file gives it."""


class Figures(Value, frozen=True):
    """A value with floats among its fields, one form for each number.

    ``1`` equals ``1.0`` and ``-0.0`` equals ``0.0``, but they are written differently: equal
    values would give unequal files. So every number given for a float is made ``1.0`` and ``0.0``.
    """

    def __post_init__(self) -> None:
        for name in _float_fields(type(self)):
            number = getattr(self, name)
            if type(number) is int or number == 0:
                force_setattr(self, name, float(number) + 0.0)  # -0.0 + 0.0 is 0.0


@lru_cache(maxsize=64)
def _float_fields(kind: type[Struct]) -> tuple[str, ...]:
    hints = get_type_hints(kind)
    return tuple(
        name
        for name in kind.__struct_fields__
        if hints[name] is float or float in get_args(hints[name])
    )
