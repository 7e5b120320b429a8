"""The sentence of every fault and remark: what is wrong, and what to do about it.

Conventions
-----------
- A text begins in small letters, since the place stands before it: "section B, bar 3: ...".
- ``{name}`` is a figure of the fault; ``{name_quarters}`` is a figure in ticks, in quarter notes.
- A fault in a file carries the ``field`` where it lies, which goes with the place.
- A figure that a fault may lack stands only in a text of ``WITH``, which is added to the sentence
  where the figure is there.
- A figure that counts things has another text in ``ONE`` for one of them.
- Tests read the whole program and fail on a code without a text, and on a text with a figure that
  its fault does not carry.
"""

from __future__ import annotations

from typing import Final

from chalkfret.words.fault_texts.files import EXPORTS, FILES, MIDI
from chalkfret.words.fault_texts.lessons import EDITS, RULES, TYPED
from chalkfret.words.fault_texts.remarks import REMARKS
from chalkfret.words.fault_texts.text_tab import TEXT_TAB
from chalkfret.words.text import N_

TEXTS: Final[dict[str, str]] = {
    **RULES, **EDITS, **TYPED, **FILES, **EXPORTS, **MIDI, **TEXT_TAB, **REMARKS,
}  # fmt: skip

WITH: Final[dict[tuple[str, str], str]] = {
    ("key_unknown", "close"): N_("Perhaps “{close}” is meant."),
    ("choice_unknown", "close"): N_("Perhaps “{close}” is meant."),
}

# Of one, where the sentence would be another one.
ONE: Final[dict[tuple[str, str], str]] = {
    ("tab_lengths_from_spacing", "bars"): N_(
        "lengths are not written above one bar with notes, so they come from the spacing. "
        "Check the rhythm."
    ),
    ("tab_strings_beyond", "notes"): N_(
        "one note lies on a string that {part} does not have. It is left out: paste into a part "
        "with {strings} strings."
    ),
}

# Words that faults carry as figures, so that the catalogues have them too.
FIGURE_WORDS: Final = (
    N_("true or false"), N_("an object"), N_("a list"), N_("a word or an object"), N_("text"),
    N_("a whole number"), N_("a number"), N_("null"),
    N_("tempo"), N_("swing"), N_("times"), N_("pause"), N_("key"), N_("shape_key"), N_("retunes"),
)  # fmt: skip
