"""What a save may find at its path, where it is not the digest of the bytes that are known."""

from typing import Final

ANYTHING: Final = "anything"
"""Whatever stands there; the teacher said that it may be replaced."""

NOTHING: Final = "nothing"
"""No file."""
