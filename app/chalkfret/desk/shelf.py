"""The shelf: the teacher's own setups, kept for every lesson in the user's settings folder."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from chalkfret.desk.settings import Kept
from chalkfret.model import Setup


class Shelf(Struct, frozen=True):
    """Setups in the order in which they were put up; each has a name of its own.

    The shelf's name for a setup is ``Setup.name``.
    """

    format: str = "chalkfret-shelf"
    version: int = 1
    setups: tuple[Setup, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the setups, in order."""
        return tuple(setup.name for setup in self.setups)

    def named(self, name: str) -> Setup | None:
        """The setup with this name."""
        return next((setup for setup in self.setups if setup.name == name), None)

    def put(self, setup: Setup, name: str) -> Shelf:
        """The shelf with the setup under this name; one that stood there is replaced."""
        placed = replace(setup, name=name)
        if name in self.names:
            swapped = tuple(placed if one.name == name else one for one in self.setups)
            return replace(self, setups=swapped)
        return replace(self, setups=(*self.setups, placed))

    def rename(self, old: str, new: str) -> Shelf:
        """The shelf with a setup renamed; raises ValueError where the new name is taken."""
        if new != old and new in self.names:
            raise ValueError(new)
        renamed = (replace(one, name=new) if one.name == old else one for one in self.setups)
        return replace(self, setups=tuple(renamed))

    def remove(self, name: str) -> Shelf:
        """The shelf without this setup."""
        return replace(self, setups=tuple(one for one in self.setups if one.name != name))


def open_shelf() -> Kept[Shelf]:
    """The teacher's shelf as it was last kept."""
    return Kept("shelf.json", Shelf)
