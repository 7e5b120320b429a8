"""What a lesson must keep to, and what an edit cannot do."""

from __future__ import annotations

from typing import Final

from chalkfret.words.text import N_

RULES: Final = {
    "part_id_twice": N_("{count} parts have the id “{name}”. Give each an id of its own."),
    "part_name_twice": N_("{count} parts are called “{name}”. Give each a name of its own."),
    "section_id_twice": N_("{count} sections have the id “{name}”. Give each an id of its own."),
    "letter_twice": N_("{count} sections have the letter “{name}”. Give each a letter of its own."),
    "cue_id_twice": N_("{count} cues have the id “{name}”. Give each an id of its own."),
    "order_unknown_section": N_(
        "the performed order names the section “{id}”, which does not exist. "
        "Take it out of the order, or give a section that id."
    ),
    "capo_beyond_neck": N_(
        "a capo at fret {fret} on a neck of {frets} frets. Move the capo down, or add frets."
    ),
    "capo_course": N_(
        "the capo covers string {course}, but the setup has {courses} strings. "
        "Name only strings that are there."
    ),
    "no_bars": N_("there are no bars. Add one, or remove the section."),
    "cue_unknown_part": N_(
        "a cue is meant for the part “{id}”, which does not exist. Choose one of the parts, or all."
    ),
    "cue_ends_before_start": N_(
        "the cue “{label}” ends before it starts. Move its end behind its start."
    ),
    "retune_unknown_part": N_(
        "a retuning is meant for the part “{id}”, which does not exist. "
        "Choose one of the parts, or remove the retuning."
    ),
    "retuned_twice": N_("the part is retuned twice. Keep one of the two retunings."),
    "retune_courses": N_(
        "the retuning has {have} strings, but the part plays on {need}. "
        "A section can retune strings, not add or remove any."
    ),
    "meter_unit": N_("{unit} is no note value that a meter can count. Use 1, 2, 4, 8, 16 or 32."),
    "grouping_sum": N_(
        "the groups of the beat add up to {sum}, but the meter counts {count}. "
        "Make the groups add up to {count}."
    ),
    "pickup_too_long": N_(
        "the pickup is {ticks_quarters} quarters long, more than the {most_quarters} of a whole "
        "bar. Shorten it, or change the meter."
    ),
    "steps_count": N_(
        "steps are given for {have} beats, but the bar has {need}. Give steps for every beat."
    ),
    "steps_uneven": N_(
        "a beat is cut into steps that do not divide it evenly. Use 1 to 16 steps that do, "
        "such as 2, 3, 4, 5, 6, 7 or 8 for a quarter."
    ),
    "pass_number": N_("an ending is for pass {number}. Passes count from 1: correct the ending."),
    "played_too_long": N_(
        "with all repeats the lesson plays up to {bars} bars, {most} are the most. Repeat fewer "
        "times, here first."
    ),
    "pause_beyond_bar": N_("a pause lies behind the end of the bar. Move it into the bar."),
    "part_count": N_(
        "notes are given for {have} parts, but the lesson has {need}. "
        "Give each bar one list of notes a part; it may be empty."
    ),
    "course_beyond_setup": N_(
        "string {course} on a {courses}-string setup. "
        "Move the note to a string that is there, or give the setup more strings."
    ),
    "note_beyond_bar": N_(
        "a note ends {end_quarters} quarters after the bar line, but the bar has "
        "{ticks_quarters}. Shorten it, and go on with a tied note in the next bar."
    ),
    "two_notes_at_once": N_(
        "two notes start together {onset_quarters} quarters after the bar line. "
        "One string sounds one note: remove one, or move it to another string."
    ),
    "notes_out_of_order": N_(
        "the note {onset_quarters} quarters after the bar line is out of order. "
        "Sort the bar's notes by time, then by string."
    ),
    "marks_out_of_order": N_(
        "the marks of a note are out of order, or one is there twice. "
        "Put them in the order that the schema gives, each once."
    ),
    "bend_runs_back": N_("the points of a bend run back in time. Put them in order of time."),
}

EDITS: Final = {
    "no_such_place": N_("there is nothing at that place. Choose a bar and string that are there."),
    "no_note_here": N_("there is no note here. Move to a note first."),
    "fret_range": N_("fret {fret} is beyond the {most} that a neck can have. Type a lower one."),
    "length_range": N_("a note cannot be {length} ticks long. Give it a length above nothing."),
    "tie_from_nothing": N_(
        "a tie with nothing to tie to: no note on this string and fret ends where it begins. "
        "Make the note before reach up to it, or take the tie away."
    ),
    "same_pitch_fret": N_(
        "on that string this pitch would lie at fret {fret}, outside 0 to {most}. "
        "Choose a string where it lies on the neck."
    ),
    "no_place_on_guitar": N_(
        "{other} has no place for fret {fret} by this rule. "
        "Choose another rule, or write the bar without this note."
    ),
    "slide_elsewhere": N_(
        "a slide leads to another note on the same string of its section. Draw it along the string."
    ),
    "slide_over_note": N_(
        "another note lies between the two. Draw the slide from one note to the next one."
    ),
    "bar_holds_notes": N_(
        "this bar holds notes, so the section cannot end before it. Clear them or delete the bar."
    ),
    "bar_holds_cue": N_(
        "the cue “{label}” starts in this bar, so the section cannot end before it. "
        "Move the cue first."
    ),
    "beyond_section": N_(
        "this would run {ticks_quarters} quarters over the end of the section. "
        "Add bars at the end, or choose an earlier place."
    ),
    "before_section": N_(
        "this would lie {ticks_quarters} quarters before the section's first bar line. "
        "Move by less, or add a bar in front."
    ),
    "clip_parts": N_(
        "the copied music has {need} parts, but from here down there are {have}. "
        "Paste it into a higher part, or add a part."
    ),
    "clip_unsound": N_("what was copied cannot be read as music. Copy it again."),
    "span_empty": N_("nothing is selected. Select some notes or bars first."),
    "last_bars": N_("a section keeps at least one bar. Delete the whole section instead."),
    "notes_do_not_fit": N_(
        "notes would run {ticks_quarters} quarters over the new bar line. "
        "Shorten or move them first, or choose a longer meter."
    ),
    "reflow_repeat": N_(
        "a repeat sign or ending would come to lie inside a bar. Remove it first, or choose a "
        "meter whose bar lines meet it."
    ),
    "repeats_cross": N_(
        "this would cross the repeat from bar {first} to bar {last}. "
        "Repeats do not overlap: remove that one first."
    ),
    "no_repeat_here": N_("there is no repeat here. Move into a repeat first."),
    "last_section": N_("a lesson keeps at least one section. Add another before deleting this."),
    "sections_max": N_("a lesson has at most {most} sections. Join or delete some first."),
    "split_in_repeat": N_(
        "this place lies in the repeat from bar {first} to bar {last}. "
        "Split before or after it, or remove the repeat first."
    ),
    "join_differs": N_(
        "the two sections differ ({what}), and a section has only one. Make them equal first."
    ),
    "no_section_after": N_("there is no section after this one to join it with. Add one first."),
    "last_part": N_("a lesson keeps at least one part. Add another before removing this."),
    "parts_max": N_("a lesson has at most {most} parts. Remove one first."),
    "cue_beyond_section": N_(
        "the cue would lie behind the section's {bars} bars. Choose an earlier place."
    ),
    "no_such_cue": N_("there is no cue “{id}”. Choose one of the section's cues."),
    "value_refused": N_("“{value}” cannot stand for “{field}”. Give it another value."),
}

TYPED: Final = {
    "note_unreadable": N_(
        "“{text}” is no note. Write it as E, Eb, F#, as Es, Fis, or as Mib, Fa#."
    ),
    "octave_range": N_("the octave of “{text}” is out of range. Use {least} to {most}, as in E2."),
    "tuning_count": N_(
        "a tuning has {least} to {most} strings, and here are {count} notes. "
        "Name one note for each string, low to high, such as C G C F A D."
    ),
    "retune_strings": N_(
        "there are {have} strings here and {need} there. A card leads from one tuning to another "
        "of the same strings."
    ),
    "retune_no_part": N_("the lesson has no guitar “{name}”. Write its name as the lesson does."),
    "retune_no_section": N_("the lesson has no section {letter}. Write its letter."),
    "retune_where_to": N_("it is not said which tuning. Write it behind `--to`."),
}
