"""Files that cannot be read or written, and what an export leaves out."""

from __future__ import annotations

from typing import Final

from chalkfret.words.text import N_

FILES: Final = {
    "file_missing": N_("there is no file “{file}”. Check the name and the folder."),
    "folder_missing": N_("there is no folder “{folder}”. Make it first, or choose another."),
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

EXPORTS: Final = {
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

MIDI: Final = {
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
