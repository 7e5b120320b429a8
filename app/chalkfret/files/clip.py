"""What was copied as JSON text, for the clipboard: between sections, lessons and windows.

Anything may lie on a clipboard: what is not sound is refused whole.
"""

from __future__ import annotations

from typing import Final, Literal

import msgspec

from chalkfret.edits.clip import Clip, is_sound
from chalkfret.files.lesson_file import SIZE_MAX
from chalkfret.model.value import Value


class NoClip(ValueError):
    """What is on the clipboard is not ours, or not whole."""


class ClipRecord(Value, frozen=True):
    """A clip of version 1."""

    format: Literal["chalkfret-clip"]
    version: Literal[1]
    clip: Clip


_decoder: Final = msgspec.json.Decoder(ClipRecord)


def dumps(clip: Clip) -> bytes:
    """The clip as JSON, UTF-8."""
    return msgspec.json.encode(ClipRecord(format="chalkfret-clip", version=1, clip=clip))


def loads(data: bytes) -> Clip:
    """The clip in these bytes. Raises NoClip for anything that is not one."""
    if len(data) > SIZE_MAX:
        raise NoClip("too large")
    try:
        clip = _decoder.decode(data)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError) as error:
        raise NoClip(str(error)) from error
    if not is_sound(clip.clip):
        raise NoClip("not in the order of a clip")
    return clip.clip
