"""The sentence of every fault and remark: what is wrong, and what to do about it.

Conventions
-----------
- A text begins in small letters, since the place stands before it: "section B, bar 3: ...".
- ``{name}`` is a figure of the fault; ``{name_quarters}`` is a figure in ticks, in quarter notes.
- A fault in a file carries the ``field`` where it lies, which goes with the place.
- A figure that a fault may lack stands only in a text of ``WITH``, which is added to the sentence
  where the figure is there.
- Tests read the whole program and fail on a code without a text, and on a text with a figure that
  its fault does not carry.
"""

from __future__ import annotations

from typing import Final

from chalkfret.words.text import N_

_RULES: Final = {
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

_EDITS: Final = {
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

_TYPED: Final = {
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
}

_FILES: Final = {
    "file_missing": N_("there is no file “{file}”. Check the name and the folder."),
    "file_is_folder": N_("“{file}” is a folder. Choose a file."),
    "file_not_regular": N_("“{file}” is not an ordinary file. Choose a lesson file."),
    "file_not_allowed": N_(
        "the system does not allow this with “{file}”. Change its permissions, or use another "
        "folder."
    ),
    "file_read_only": N_("“{file}” lies where nothing can be written. Use another folder."),
    "file_disk_full": N_(
        "there is no room left for “{file}”. Free some space, or use another disk."
    ),
    "file_name_too_long": N_("the name “{file}” is too long for the disk. Use a shorter one."),
    "file_link_loop": N_("“{file}” is a link that leads to itself. Use another name."),
    "file_system": N_("the system says of “{file}”: {reason}. Try again, or use another folder."),
    "file_too_big": N_(
        "the file has {megabytes} MB, and a lesson has at most {most} MB. "
        "This is hardly a lesson: choose another file."
    ),
    "file_empty": N_("the file is empty. Choose another, or a backup of it."),
    "file_binary": N_(
        "line {line} of the file is not text. This is no lesson file: choose another, or a backup."
    ),
    "file_not_utf8": N_(
        "line {line} of the file is not UTF-8 text. Save it as UTF-8, or open a backup."
    ),
    "file_cut_short": N_(
        "the file breaks off in line {line}. It was cut short: open a backup of it."
    ),
    "file_syntax": N_(
        "the file is no JSON at line {line}, column {column}. Correct that place, or open a backup."
    ),
    "file_too_deep": N_("the file is nested far too deep for a lesson. Choose another file."),
    "file_not_a_lesson": N_("this is JSON, but no lesson. Choose a lesson file."),
    "file_other_format": N_("this is a file of the format “{format}”. Choose a lesson file."),
    "file_version_unclear": N_(
        "the file does not say its version as a whole number. If it is a lesson, write version "
        "{known}."
    ),
    "file_newer": N_(
        "the file has version {version}, and this program knows versions up to {known}. "
        "Open it with a newer version of the program; it was not changed."
    ),
    "file_version_unknown": N_(
        "the file says version {version}, which never was; the newest is {known}. "
        "Open a backup of it."
    ),
    "file_newer_there": N_(
        "a newer version of the program wrote “{file}”, and this one does not write over it. "
        "Save under another name."
    ),
    "file_differs": N_(
        "“{file}” is not the file that was opened: it was changed by another program. "
        "Choose which of the two to keep, or save under another name."
    ),
    "journal_unreadable": N_(
        "what was kept of unsaved work is damaged and cannot be read. Use the saved file."
    ),
    "file_refused": N_("the file cannot be read as a lesson: {reason}. Open a backup of it."),
    "key_twice": N_("“{key}” is there twice. Keep one of the two."),
    "key_unknown": N_("“{key}” is not known. Remove it, or correct its name."),
    "key_missing": N_("“{key}” is missing. Add it."),
    "list_too_short": N_("the list has {count} members. It needs at least {least}."),
    "list_too_long": N_("the list has {count} members. Keep at most {most}."),
    "number_impossible": N_("{value} is no number. Write an ordinary one."),
    "number_not_above": N_("{value} is too small. Make it greater than {bound}."),
    "number_too_small": N_("{value} is too small. Make it {least} or more."),
    "number_too_large": N_("{value} is too large. Make it {most} or less."),
    "text_broken": N_("half a character in “{value}”. Write the text again."),
    "text_too_short": N_("the text is too short. Give it at least {least} characters."),
    "text_too_long": N_("the text has {length} characters. Keep at most {most}."),
    "text_form": N_("“{value}” cannot stand here. Write it in the form that the schema gives."),
    "choice_unknown": N_("“{value}” cannot stand here. It can be: {choices}."),
    "type_wrong": N_("{found} stands here. It should be {expected}."),
}

_EXPORTS: Final = {
    "export_over_lesson": N_(
        "“{file}” is the lesson itself. Choose another folder for what is made of it."
    ),
    "export_broken": N_(
        "“{file}” could not be made, by a fault of the program. The lesson is as it was; the menu "
        "Help says under “What went wrong” where the fault lies."
    ),
    "export_folder_refused": N_(
        "the folder “{folder}” is not there, and the system does not let it be made. Choose "
        "another folder."
    ),
    "export_no_folder": N_(
        "“{folder}” cannot be a folder, as a file is in the way. Choose another folder."
    ),
    "export_unknown": N_("the lesson has no section or part “{id}”. Choose one that it has."),
    "export_no_section": N_("there is no section “{name}”. The lesson has: {known}."),
    "export_no_part": N_("there is no part “{name}”. The lesson has: {known}."),
    "export_cannot_draw": N_(
        "a library that the drawing needs is missing here ({reason}). Install it; previews work "
        "without."
    ),
    "export_nothing": N_("nothing is chosen to be made. Choose at least one kind of file."),
    "export_speed": N_(
        "the speed is {speed}. Choose one from {least} to {most} (1 is full speed)."
    ),
    "export_count_in": N_("a count-in of {bars} bars. Choose 0 to {most}."),
}

_MIDI: Final = {
    "midi_too_slow": N_(
        "{tempo} quarters a minute are too slow for MIDI, which begins at {least}. "
        "Choose a higher speed, or a faster tempo."
    ),
    "midi_pitch_range": N_(
        "a note sounds MIDI number {number}, outside 0 to {most}, and is left out. "
        "Check its fret and the tuning."
    ),
    "midi_bends_lost": N_(
        "MIDI has too few channels for every string, so {notes} notes go without their bend, "
        "slide or vibrato. Export fewer parts at a time to keep them."
    ),
    "midi_cents_lost": N_(
        "MIDI has too few channels for every string, so this one sounds {cents} cents off. "
        "Export fewer parts at a time to keep its tuning."
    ),
    "midi_unisons_merged": N_(
        "MIDI has too few channels for every string, so {notes} notes are joined with the same "
        "note of another string. Export fewer parts at a time to keep them apart."
    ),
    "midi_cue_silent": N_(
        "the cue “{label}” lies where nothing is played and is left out. Move it to a bar that "
        "sounds."
    ),
}

_TEXT_TAB: Final = {
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

_REMARKS: Final = {
    "notes_overlap": N_(
        "a note goes on while the next one starts on the same string. Shorten it, or move one."
    ),
    "section_empty": N_("there are no notes. Write some, or remove the section."),
    "part_silent": N_("the part has no notes in any section. Write some, or remove the part."),
    "tonic_silent": N_(
        "the tonic {tonic} never sounds. Check the section's tonic, or the part's tuning."
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
    "letters_alike": N_(
        "the letters “{one}” and “{other}” differ only in how they are written. Choose letters "
        "that cannot be confused."
    ),
    "part_names_alike": N_(
        "the parts “{one}” and “{other}” differ only in how they are written. Choose names that "
        "cannot be confused."
    ),
}

TEXTS: Final[dict[str, str]] = {
    **_RULES, **_EDITS, **_TYPED, **_FILES, **_EXPORTS, **_MIDI, **_TEXT_TAB, **_REMARKS,
}  # fmt: skip

WITH: Final[dict[tuple[str, str], str]] = {
    ("key_unknown", "close"): N_("Perhaps “{close}” is meant."),
    ("choice_unknown", "close"): N_("Perhaps “{close}” is meant."),
}

# Words that faults carry as figures, so that the catalogues have them too.
FIGURE_WORDS: Final = (
    N_("true or false"), N_("an object"), N_("a list"), N_("a word or an object"), N_("text"),
    N_("a whole number"), N_("a number"), N_("null"),
    N_("tempo"), N_("swing"), N_("times"), N_("pause"), N_("key"), N_("shape_key"), N_("retunes"),
)  # fmt: skip
