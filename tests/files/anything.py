"""Whole lessons made from the types, so that no field is ever left out.

``any_lessons`` obey the types' bounds only; ``sound_lessons`` also the rules of a lesson.
"""

from random import Random

import msgspec
import msgspec.inspect as kinds
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.files.record import LessonRecord, lesson_of
from chalkfret.model import (
    Bar,
    BarHead,
    Bars,
    Bend,
    Lesson,
    Meter,
    Note,
    Section,
    in_order,
    validate,
)

_LONGEST = 3  # of any list: small lessons fail as well as large ones
_NAMES = {
    "^[A-G](##?|bb?)?$": ["C", "F#", "Bb", "G##", "Abb"],
    "^[A-G](##?|bb?)?[0-8]$": ["C0", "E2", "F#3", "Bb4", "G##8"],
    "^[a-z]{2}(-[A-Z]{2})?$": ["en", "de", "pt-BR"],
    "^[a-z][a-z0-9_-]{0,39}$": ["a", "s1", "low_road-2", "z" * 40],
    "^(bb|b|##|#)?[1-7]$": ["1", "b3", "#4", "bb7"],
}
_LETTERS = 'aB 7,."\\/é♯練\U0001f3b8'


def of_kind(kind, draw: Random):
    """The plain value (as in JSON) of one of msgspec's kinds, within its bounds and often at them.

    Drawn by hand: hypothesis takes a second for each value of so many fields.
    """
    match kind:
        case kinds.StructType(array_like=True):
            return [of_kind(field.type, draw) for field in kind.fields]
        case kinds.StructType():
            given = [field for field in kind.fields if field.required or draw.random() < 0.6]
            tag = {kind.tag_field: kind.tag} if kind.tag_field else {}
            return tag | {field.encode_name: of_kind(field.type, draw) for field in given}
        case kinds.VarTupleType():
            least = kind.min_length or 0
            most = min(kind.max_length or _LONGEST, max(least, _LONGEST))
            return [of_kind(kind.item_type, draw) for _ in range(draw.randint(least, most))]
        case kinds.UnionType():
            return of_kind(draw.choice(kind.types), draw)
        case kinds.IntType():
            least = kind.ge if kind.gt is None else kind.gt + 1
            most = kind.le if kind.lt is None else kind.lt - 1
            near = draw.randint(least, min(most, least + 12))
            return draw.choice([least, most, near, near, draw.randint(least, most)])
        case kinds.FloatType():
            least = kind.ge if kind.gt is None else kind.gt + 1e-9
            between = draw.uniform(least, kind.le)
            some = [least, kind.le, between, round(between, 2), int(between), 0, -0.0]
            return draw.choice([number for number in some if least <= number <= kind.le])
        case kinds.StrType():
            return _text(kind, draw)
        case kinds.EnumType():
            return draw.choice(list(kind.cls)).value
        case kinds.LiteralType():
            return draw.choice(kind.values)
        case kinds.BoolType():
            return draw.random() < 0.5
        case kinds.NoneType():
            return None
    raise TypeError(kind)


def _text(kind, draw: Random):
    pattern = (kind.pattern or "").removesuffix(r"(?!\n)")
    if pattern in _NAMES:
        return draw.choice(_NAMES[pattern])
    letters = _LETTERS if kind.pattern else _LETTERS + "\n\t\x01\x7f\u2028"
    length = draw.randint(kind.min_length or 0, min(12, kind.max_length or 12))
    return "".join(draw.choice(letters) for _ in range(length))


def drawn(seed: int) -> Lesson:
    """A lesson of anything that the types allow."""
    tree = of_kind(kinds.type_info(LessonRecord), Random(seed))
    return lesson_of(msgspec.convert(tree, LessonRecord))


def drawn_sound(seed: int) -> Lesson:
    """A lesson of anything that types and rules allow."""
    return made_sound(drawn(seed))


def made_sound(lesson: Lesson) -> Lesson:
    """The lesson with what breaks its rules taken away, so that every other field is kept."""
    parts = tuple(
        replace(part, id=f"p{at}", name=f"{at} {part.name}"[:120], setup=_setup(part.setup))
        for at, part in enumerate(lesson.parts)
    )
    sections = tuple(
        _section(section, f"s{at}", str(at), parts) for at, section in enumerate(lesson.sections)
    )
    head = replace(
        lesson.head,
        order=tuple(replace(entry, section="s0") for entry in lesson.head.order),
        students=tuple(replace(one, setup=_setup(one.setup)) for one in lesson.head.students),
    )
    sound = Lesson(head, parts, sections)
    assert validate(sound) == ()
    return sound


def _setup(setup):
    if setup.capo is None:
        return setup
    courses = tuple(course for course in setup.capo.courses if course <= len(setup.courses))
    return replace(
        setup,
        capo=replace(setup.capo, fret=min(setup.capo.fret, setup.fret_count), courses=courses),
    )


def _section(section: Section, id_, letter, parts):
    cues = tuple(
        replace(cue, id=f"{id_}-{at}", part=cue.part and parts[0].id,
                end=cue.end and max(cue.start, cue.end))
        for at, cue in enumerate(section.head.cues)
    )  # fmt: skip
    retunes = tuple(
        replace(retune, part=part.id, setup=part.setup)
        for retune, part in zip(section.head.retunes, parts, strict=False)
    )
    head = replace(section.head, letter=letter, cues=cues, retunes=retunes)
    bars = [_bar(bar, parts) for bar in section.bars] or [Bar(BarHead(), ((),) * len(parts))]
    return Section(id_, head, Bars.of(bars))


def _bar(bar: Bar, parts) -> Bar:
    head = bar.head
    meter = Meter(head.meter.count, 1 << (head.meter.unit.bit_length() - 1))
    grouping = (meter.count,) if head.grouping else ()
    pickup = None if head.pickup is None else min(head.pickup, meter.ticks)
    head = replace(head, meter=meter, grouping=grouping, pickup=pickup)
    pauses = tuple(replace(pause, tick=min(pause.tick, head.ticks)) for pause in head.pauses)
    steps = (1,) * len(head.beats) if head.steps and len(head.beats) <= 32 else ()
    head = replace(head, steps=steps, pauses=pauses)
    rows = (*bar.notes, *[()] * len(parts))[: len(parts)]
    return Bar(
        head,
        tuple(
            _notes(notes, len(part.setup.courses), head.ticks)
            for notes, part in zip(rows, parts, strict=True)
        ),
    )


def _notes(notes, courses, ticks):
    placed: dict[tuple[int, int], Note] = {}
    for note in notes:
        onset = note.onset % ticks
        marks = tuple(
            Bend(tuple(sorted(m.curve, key=lambda point: point.tick))) if isinstance(m, Bend) else m
            for m in note.marks
        )
        place = onset, (note.course - 1) % courses + 1
        placed[place] = replace(
            note, onset=onset, length=min(note.length, ticks - onset), course=place[1],
            marks=in_order(marks),
        )  # fmt: skip
    return tuple(placed[place] for place in sorted(placed))


any_lessons = st.integers(0, 2**32).map(drawn)
sound_lessons = st.integers(0, 2**32).map(drawn_sound)
