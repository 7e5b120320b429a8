"""The example files of shared/: every feature of the lesson file once.

`PYTHONPATH=app python -m tests.files.examples` writes them and the schemas anew.
"""

from pathlib import Path

from chalkfret.files.canonical import dumps
from chalkfret.files.lesson_file import save
from chalkfret.files.record import SUFFIX
from chalkfret.files.schema import explain_schema, lesson_schema, schema_text
from chalkfret.model import (
    ArtificialHarmonic,
    Bar,
    BarHead,
    Bars,
    BeatUnit,
    Bend,
    BendPoint,
    Capo,
    Course,
    Cue,
    CueKind,
    Drive,
    Finger,
    FingerName,
    GuitarString,
    HandShape,
    Key,
    Lesson,
    LessonHead,
    Meter,
    Mode,
    NaturalHarmonic,
    Note,
    NoteNaming,
    Paper,
    Part,
    Pause,
    PauseKind,
    Performed,
    Place,
    Retune,
    Section,
    SectionHead,
    SectionShow,
    Setting,
    Setup,
    SheetOptions,
    Sign,
    Slide,
    SlideWay,
    StudentSetup,
    Swing,
    SwingUnit,
    TalkingPoint,
    Tempo,
    TempoShape,
    Tremolo,
    Trill,
    Vibrato,
    Voice,
    Winding,
    in_order,
)
from chalkfret.model.start import STANDARD_SETUP, plain_setup
from tests.builder import lesson, part, riff, section

SHARED = Path(__file__).parents[2] / "shared"
EIGHTH, QUARTER = 2520, 5040


def first_riff() -> Lesson:
    """One guitar, one section."""
    return lesson(section("A", "e 6:0 0 3 0 5 0 q 3 | e 0 0 3 0 6 5 3 0", name="First riff",
                          tempo=112.0, key="E minor"), title="First riff")  # fmt: skip


_FROM_BELOW = [(Sign.HAMMER_ON,), (Slide(SlideWay.FROM_NOTE),)]


def every_mark() -> Lesson:
    """Each mark on a note of its own, and one note with several."""
    signs = [(sign,) for sign in Sign if sign is not Sign.TIE]
    ways = [(Slide(way),) for way in SlideWay]
    others = [
        (Bend((BendPoint(0, 0), BendPoint(1260, 200), BendPoint(2000, 0))),),
        (Vibrato(),),
        (Vibrato(wide=True),),
        (NaturalHarmonic(12.0),),
        (NaturalHarmonic(3.2),),
        (ArtificialHarmonic(),),
        (ArtificialHarmonic(7.0),),
        (Trill(9),),
        (Tremolo(),),
        (Tremolo(strokes=1),),
        *((Finger(finger),) for finger in FingerName),
        in_order((Sign.PALM_MUTE, Sign.ACCENT, Sign.DOWN_STROKE, Finger(FingerName.RING))),
        (Sign.TIE,),
    ]
    notes = [
        Note(at % 8 * EIGHTH, EIGHTH, 5, 9 if marks in _FROM_BELOW else 7, marks=marks)
        for at, marks in enumerate([(), *signs, *ways, *others])
    ]
    bars = [Bar(BarHead(), (tuple(notes[at : at + 8]),)) for at in range(0, len(notes), 8)]
    made = section("A", name="Every mark", key="E dorian")
    made = Section(made.id, made.head, Bars.of(bars))
    return lesson(made, title="Every mark")


def rhythm() -> Lesson:
    """Meters, groups, steps, pickups, tuplets, repeats with endings, pauses, two voices."""
    seven = Meter(7, 8)
    heads = [
        BarHead(pickup=QUARTER),
        BarHead(steps=(3, 5, 7, 4), repeat_open=True),
        BarHead(passes=(1, 3), repeat_close=4, join_rests=True),
        BarHead(passes=(2, 4), break_after="system"),
        BarHead(seven, grouping=(3, 2, 2), simile=True),
        BarHead(seven, pauses=(Pause(EIGHTH, PauseKind.FERMATA, 1.5),
                               Pause(2 * EIGHTH, PauseKind.BREAK, 0.5)), break_after="page"),
    ]  # fmt: skip
    line = "q 6:0 | e3 6:0 3 5 s5 0 3 5 7 5 s7 0 1 2 3 4 5 6 q 5:0 | h 6:0 6:3 | w 6:0 | "
    bars = riff(line + "e 6:0 0 0 5:2 2 4:2 2 | e 6:3 3 3 5:2 2 4:2 2")
    deep = Note(0, 4 * QUARTER, 6, 0, voice=1)
    bars[2] = (deep, *(Note(QUARTER * at, QUARTER, 3, 2 + at) for at in (1, 2, 3)))
    run = [Bar(head, (notes,)) for head, notes in zip(heads, bars, strict=True)]
    head = SectionHead(
        letter="A", name="Rhythm", tempo=Tempo(66.0, BeatUnit.DOTTED_QUARTER, 99.0,
                                               TempoShape.OVER_TIME),
        swing=Swing(SwingUnit.SIXTEENTH, 1.5), times=2,
    )  # fmt: skip
    return lesson(Section("s1", head, Bars.of(run)), title="Rhythm")


def two_guitars() -> Lesson:
    """Two setups, two sections with their own tempo, key and cues, one part retuned in one."""
    low = plain_setup(
        ("C2", "G2", "C3", "F3", "A3", "D4"), (0.056, 0.042, 0.032, 0.02, 0.014, 0.011), "Low C"
    )
    high = Setup(
        name="Capo", courses=STANDARD_SETUP.courses, scale_mm=628.65, fret_count=21,
        capo=Capo(3, (1, 2, 3, 4, 5)), a4=442.0, nut_height_mm=0.5, saddle_height_mm=10.5,
    )  # fmt: skip
    parts = (
        Part("low", "Low guitar", low, "Neck pickup, tone rolled off.",
             Voice(Drive.HEAVY, 3_500.0, True, -3.0, -0.4, 30)),
        Part("high", "High guitar", high),
    )  # fmt: skip
    verse = section(
        "A", "e 6:0m 0m 0m 5 | 6:3m 3m 3m 7", "q 3:2 2 | 0 0", name="Verse", meter=(4, 8),
        tempo=Tempo(92.0, end=104.0), key="C lydian_dominant", pause_s=1.5, difficulty=3,
        notes="Keep the *wrist* loose:\n\n- mute near the bridge\n- let the last note ring",
        cues=(Cue("c1", "Drive on", CueKind.DRIVE, Place(0, 0), Place(1, EIGHTH), "low",
                  (Setting("gain", 0.6),)),),
        show=SectionShow(True, True, True, True, True, True, True),
    )  # fmt: skip
    own = Key("Eb", degrees=("1", "b2", "3", "5", "b7"))
    drop = plain_setup(("D2", "A2", "D3", "G3", "B3", "E4"), name="Drop D")
    chorus = section(
        "B", "q 6:3+5:2 5+4:2 | 3 r", "e 1:0 3 2:0 3 q 1:5 | h 2:0", name="Chorus", tempo=128.0,
        meter=(3, 4), key=own, shape_key="F", retunes=(Retune("high", drop),),
        cues=(Cue("c2", "Slow sweep", CueKind.SWEEP, Place(0, QUARTER)),),
    )  # fmt: skip
    return lesson(verse, chorus, parts=parts, title="Two guitars")


def twelve_string() -> Lesson:
    """Courses of two strings, cents, own scale lengths, a string that starts late."""

    def course(low: str, high: str, gauges: tuple[float, float], **more: object) -> Course:
        return Course((
            GuitarString(low, -4.0, gauges[0], Winding.BRONZE_ROUND, **more),
            GuitarString(high, 4.0, gauges[1]),
        ))  # fmt: skip

    courses = (
        course("D4", "D4", (0.010, 0.010)),
        course("A3", "A3", (0.014, 0.014)),
        course("F#3", "F#4", (0.023, 0.009)),
        course("D3", "D4", (0.030, 0.012), core_gauge=0.015),
        course("A2", "A3", (0.039, 0.018), unit_weight=0.00021),
        course("D2", "D3", (0.054, 0.027), scale_mm=660.4),
    )
    short = Course((GuitarString("G4", gauge=0.009, first_fret=5),))
    setup = Setup("Open D, twelve strings and a short one", (short, *courses), 647.7)
    notes = (Note(0, QUARTER, 7, 0), Note(QUARTER, QUARTER, 4, 4, spelling="Gb"))
    made = section("A", name="Ring", key=Key("D", Mode.MAJOR))
    made = Section(made.id, made.head, Bars.of([Bar(BarHead(), (notes,))]))
    return lesson(made, parts=(part("Twelve-string", setup),), title="Twelve strings")


def all_said() -> Lesson:
    """Everything that can be said of a lesson as a whole."""
    head = LessonHead(
        title="All said", subtitle="What a lesson can say of itself", credit="A made-up teacher",
        supporter_line="Thank you for your support", licence="CC BY 4.0", language="de",
        note_naming=NoteNaming.GERMAN, simple_names=True,
        sheet=SheetOptions(Paper.LETTER, True, True, True), video_offset_s=12.5,
        order=(Performed("s-a", 2, 7.5),),
        talking_points=(TalkingPoint("tuning", "en", "Tune down first.", "f00d", "s-a"),),
        students=(StudentSetup("Standard", STANDARD_SETUP),),
        hand_shapes=(HandShape("Power", (None, None, None, 2, 2, 0),
                               (None, None, None, FingerName.RING, FingerName.INDEX, None)),),
    )  # fmt: skip
    made = lesson(section("A", "q 6:0 2 3 5", name="One bar"))
    return Lesson(head, made.parts, made.sections)


EXAMPLES = {
    "first-riff": first_riff,
    "every-mark": every_mark,
    "rhythm": rhythm,
    "two-guitars": two_guitars,
    "twelve-string": twelve_string,
    "all-said": all_said,
}


def texts() -> dict[Path, bytes]:
    """What shared/ is to hold."""
    lessons = {
        SHARED / "examples" / f"{name}{SUFFIX}": dumps(make()) for name, make in EXAMPLES.items()
    }
    return {
        **lessons,
        SHARED / "lesson.schema.json": schema_text(lesson_schema()).encode(),
        SHARED / "explain.schema.json": schema_text(explain_schema()).encode(),
    }


if __name__ == "__main__":
    for name, make in EXAMPLES.items():
        save(make(), SHARED / "examples" / f"{name}{SUFFIX}")
    for path, text in texts().items():
        path.write_bytes(text)
