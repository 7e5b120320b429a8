"""The bounds of a lesson: one place, read by the types, the checker and the window.

Units stand beside each figure. They are generous to music and strict to nonsense: a file
outside them is refused with a sentence, never opened half.
"""

from __future__ import annotations

from typing import Annotated, Final

from msgspec import Meta

TEMPO_MIN: Final = 10.0  # beats a minute, of the section's beat unit
TEMPO_MAX: Final = 400.0
FRET_MAX: Final = 36
COURSES_MIN: Final = 3
COURSES_MAX: Final = 12
STRINGS_PER_COURSE_MAX: Final = 3
A4_MIN: Final = 380.0  # Hz
A4_MAX: Final = 480.0
SCALE_MIN: Final = 300.0  # mm
SCALE_MAX: Final = 1200.0
GAUGE_MIN: Final = 0.005  # inches
GAUGE_MAX: Final = 0.2
CENTS_MAX: Final = 100.0  # either way, offset of a string from its named pitch
BEND_CENTS_MAX: Final = 1200
METER_COUNT_MAX: Final = 32
TIMES_MAX: Final = 64
PLAYED_BARS_MAX: Final = 50_000  # of all sections with repeats, as played: a day of music
PARTS_MAX: Final = 8
SECTIONS_MAX: Final = 1_000
VOICES_MAX: Final = 2
STEPS_MAX: Final = 16  # of one beat
PAUSE_MAX: Final = 600.0  # seconds
NAME_MAX: Final = 120  # characters of a name, title or label
TEXT_MAX: Final = 20_000  # characters of a text

BeatsPerMinute = Annotated[float, Meta(ge=TEMPO_MIN, le=TEMPO_MAX)]
Fret = Annotated[int, Meta(ge=0, le=FRET_MAX)]
CourseNumber = Annotated[int, Meta(ge=1, le=COURSES_MAX)]
Ticks = Annotated[int, Meta(ge=0, le=5040 * 4 * METER_COUNT_MAX)]
Length = Annotated[int, Meta(ge=1, le=5040 * 4 * METER_COUNT_MAX)]
Index = Annotated[int, Meta(ge=0, le=1_000_000)]
MeterCount = Annotated[int, Meta(ge=1, le=METER_COUNT_MAX)]
Steps = Annotated[int, Meta(ge=1, le=STEPS_MAX)]
Pass = Annotated[int, Meta(ge=1, le=TIMES_MAX * TIMES_MAX)]
Times = Annotated[int, Meta(ge=1, le=TIMES_MAX)]
Seconds = Annotated[float, Meta(ge=0.0, le=PAUSE_MAX)]
Cents = Annotated[float, Meta(ge=-CENTS_MAX, le=CENTS_MAX)]
Gauge = Annotated[float, Meta(ge=GAUGE_MIN, le=GAUGE_MAX)]
ScaleMm = Annotated[float, Meta(ge=SCALE_MIN, le=SCALE_MAX)]
ReferenceHz = Annotated[float, Meta(ge=A4_MIN, le=A4_MAX)]
# A bare $ also matches before a last line feed, so patterns end in $(?!\n).
ONE_LINE: Final = r"^[^\x00-\x1f\x7f-\x9f\u2028\u2029]*$(?!\n)"  # nor controls
Name = Annotated[str, Meta(min_length=1, max_length=NAME_MAX, pattern=ONE_LINE)]
Line = Annotated[str, Meta(max_length=NAME_MAX * 4, pattern=ONE_LINE)]  # one line, may be empty
Text = Annotated[str, Meta(max_length=TEXT_MAX)]
Id = Annotated[str, Meta(pattern=r"^[a-z][a-z0-9_-]{0,39}$(?!\n)")]
