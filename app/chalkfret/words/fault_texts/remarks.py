"""What is legal in a lesson but surely not meant."""

from __future__ import annotations

from typing import Final

from chalkfret.words.text import N_

REMARKS: Final = {
    "notes_overlap": N_(
        "a note goes on while the next one starts on the same string. Shorten it, or move one."
    ),
    "section_empty": N_("there are no notes. Write some, or remove the section."),
    "part_silent": N_("the part has no notes in any section. Write some, or remove the part."),
    "tonic_silent": N_(
        "the tonic {tonic} never sounds. Check the section's tonic, or the part's tuning."
    ),
    "key_contradicted": N_(
        "{outside} of {notes} notes are not of {key}, most of them in this bar; {better} would "
        "fit. Check the section's tonic and scale."
    ),
    "cue_after_end": N_(
        "the cue “{label}” starts behind the end of its bar or section. Move it to where it is "
        "heard."
    ),
    "cue_end_after_end": N_(
        "the cue “{label}” ends behind the end of its bar or section. Move its end, or let it run "
        "to the end of the section."
    ),
    "fret_beyond_neck": N_(
        "fret {fret} lies beyond the neck, which ends {frets} frets above the nut. "
        "Choose another string, or give the setup more frets."
    ),
    "fret_beyond_neck_capo": N_(
        "fret {fret} above the capo at {capo} lies beyond the neck, which ends {frets} frets above "
        "the nut. Choose another string, or move the capo."
    ),
    "fret_on_short_string": N_(
        "the string starts at fret {first} and sounds open at fret {fret}. "
        "Write 0, or a fret above {first}."
    ),
    "tie_other_fret": N_(
        "a tie joins fret {before} to fret {fret}. A tie keeps the fret: make them equal, or use a "
        "slide or hammer-on."
    ),
    "hammer_from_nothing": N_(
        "a hammer-on with no note before it on its string. Write the note it comes from, or make "
        "it a tap."
    ),
    "pull_from_nothing": N_(
        "a pull-off with no note before it on its string. Write the note it comes from."
    ),
    "slide_from_nothing": N_(
        "a slide with no note before it on its string. Write the note it comes from, or let it "
        "slide in from below or above."
    ),
    "hammer_downward": N_(
        "a hammer-on from fret {before} to fret {fret}. A hammer-on goes up: make it a pull-off, "
        "or correct a fret."
    ),
    "pull_upward": N_(
        "a pull-off from fret {before} to fret {fret}. A pull-off goes down: make it a hammer-on, "
        "or correct a fret."
    ),
    "slide_nowhere": N_(
        "a slide from fret {before} to the same fret. Correct a fret, or take the slide away."
    ),
    "trill_nowhere": N_("a trill with its own fret {fret}. Choose the other fret of the trill."),
    "repeat_never_closed": N_(
        "a repeat opens here and never closes. Close it at the last bar to be repeated, or take "
        "the sign away."
    ),
    "repeat_once": N_(
        "a repeat sign says one time in all, and so repeats nothing. Give it two or more, or take "
        "it away."
    ),
    "bar_never_played": N_(
        "the bar is never reached in the passes that it is for ({passes}). Correct its ending, or "
        "repeat more times."
    ),
    "ending_missing": N_(
        "the repeat has an ending {later} but no ending {ending}. Mark the bars of ending "
        "{ending}, or correct the numbers of the endings."
    ),
    "letters_alike": N_(
        "the letters “{one}” and “{other}” differ only in how they are written. Choose letters "
        "that cannot be confused."
    ),
    "part_names_alike": N_(
        "the parts “{one}” and “{other}” differ only in how they are written. Choose names that "
        "cannot be confused."
    ),
}
