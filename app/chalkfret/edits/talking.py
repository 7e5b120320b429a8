"""Edits of talking points: the teacher's own words in the place of what is computed."""

from __future__ import annotations

from chalkfret.edits.texts import set_head
from chalkfret.model import Lesson, TalkingPoint


def set_talking_point(lesson: Lesson, point: TalkingPoint) -> Lesson:
    """Say a point in these words, which hold for the facts with its fingerprint.

    They take the place of earlier ones of the same kind, section and language; an empty text gives
    the computed words back.
    """
    same = (point.section, point.kind, point.language)
    kept = [one for one in lesson.head.talking_points if _of(one) != same]
    at = next(
        (index for index, one in enumerate(lesson.head.talking_points) if _of(one) == same),
        len(kept),
    )
    if point.text.strip():
        kept.insert(at, point)
    return set_head(lesson, talking_points=tuple(kept))


def _of(point: TalkingPoint) -> tuple[str | None, str, str]:
    return point.section, point.kind, point.language
