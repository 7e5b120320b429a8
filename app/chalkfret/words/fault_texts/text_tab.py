"""What could not be read of tab as plain text."""

from __future__ import annotations

from typing import Final

from chalkfret.words.text import N_

TEXT_TAB: Final = {
    "tab_nothing": N_(
        "there is no tab in this text. A tab has a line for each string, such as e|--0--3--|, "
        "at least three under one another."
    ),
    "tab_sign_unread": N_(
        "line {line}, column {column}: “{text}” cannot be read. The line is in the teacher’s notes."
    ),
    "tab_words_kept": N_("line {line}: “{text}” is no tab. It is kept in the teacher’s notes."),
    "tab_words_cut": N_(
        "there are more words than the {most} characters of a teacher’s note. The rest is left out."
    ),
    "tab_bars_differ": N_(
        "line {line}: this string has {have} bars where the others have {need}. "
        "It is cut as the others are: check it."
    ),
    "tab_lengths_unfit": N_(
        "line {line}: the lengths above bar {bar} do not fit its notes or its meter. "
        "They are taken from the spacing: check the bar."
    ),
    "tab_lengths_from_spacing": N_(
        "lengths are not written above {bars} bars with notes, so they come from the spacing. "
        "Check the rhythm."
    ),
    "tab_strings_unnamed": N_(
        "the text does not say how its {strings} strings are tuned. The usual tuning is taken: "
        "check it on the Strings page."
    ),
    "tab_lowest_on_top": N_(
        "line {line}: the lowest string stands on top. The lines are turned round: check them."
    ),
    "tab_too_many_parts": N_(
        "line {line}: a lesson has at most {most} parts. These lines are left out."
    ),
    "tab_repeats_too_many": N_(
        "with all its repeats the text would play for days. It is read without repeat signs."
    ),
    "tab_repeats_unpasted": N_("repeat signs are not pasted with notes. Set them on the bars."),
    "tab_strings_beyond": N_(
        "{notes} notes lie on strings that {part} does not have. They are left out: paste into a "
        "part with {strings} strings."
    ),
    "tab_parts_beyond": N_(
        "the text has {parts} parts, and only the first is pasted. Read the text as a new lesson "
        "to have them all."
    ),
}
