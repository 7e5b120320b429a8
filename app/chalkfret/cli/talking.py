"""``talk``: talking points as text or as JSON, and the text under a video."""

from __future__ import annotations

from argparse import Namespace
from typing import Any

import msgspec

from chalkfret.cli.exporting import found, split
from chalkfret.cli.say import GOOD, SYSTEM, complain, say, say_json, sentences
from chalkfret.files.trouble import CannotWrite
from chalkfret.model import Lesson
from chalkfret.words.talk.points import Point, points
from chalkfret.words.talk.text import talk_text, video_text


def talk(lesson: Lesson, options: Namespace) -> int:
    """Say the talking points of a lesson, or of some of its sections; the exit code."""
    letters = {section.head.letter: section.id for section in lesson.sections}
    try:
        sections = found(split(options.sections, letters), letters, "export_no_section")
    except CannotWrite as trouble:
        for line in sentences(trouble.faults):
            complain(line)
        return SYSTEM
    if options.video:
        text = video_text(lesson)
        if options.json:
            say_json({"text": text})
        else:
            say(text.rstrip("\n"))
    elif options.json:
        wished = [one for one in points(lesson) if not sections or one.section in sections]
        say_json([_plain(one, lesson) for one in wished])
    else:
        say(talk_text(lesson, sections).rstrip("\n"))
    return GOOD


def _plain(point: Point, lesson: Lesson) -> dict[str, Any]:
    """A point for a program: its words, its figures, and the paths it was computed from."""
    letters = {section.id: section.head.letter for section in lesson.sections}
    fact = point.fact
    return {
        "section": None if point.section is None else letters[point.section],
        "kind": point.kind,
        "text": point.text,
        "computed": point.computed or None,
        "state": point.state.value,
        "fingerprint": None if fact is None else fact.fingerprint,
        "where": None if fact is None else msgspec.structs.asdict(fact.where),
        "figures": None if fact is None else msgspec.to_builtins(fact.what),
        "from": () if fact is None else fact.paths,
    }
