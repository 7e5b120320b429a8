"""What the mouse does, listed beside the keys that do the same."""

from __future__ import annotations

from chalkfret.desk.actions import Action
from chalkfret.words.text import N_, _

# Each gesture, what is done with the mouse, and what it does.
_GESTURES = (
    ("mouse_fret", N_("press where the cursor is"), N_("Choose a fret under the pointer")),
    ("mouse_carry", N_("drag a note or a selection"),
     N_("Move notes in time and to other strings, same pitch; with Ctrl same fret")),
    ("mouse_length", N_("drag a note’s end"), N_("Make a note longer or shorter")),
    ("mouse_slide", N_("drag a note’s knob sideways"), N_("Draw a slide to another note")),
    ("mouse_bend", N_("drag a note’s knob up, and down"),
     N_("Draw a bend, and its release; with Ctrl finer, with Shift before it is struck")),
    ("mouse_band", N_("drag over empty cells, Shift+drag"), N_("Select notes")),
    ("mouse_bars", N_("drag along the ruler"), N_("Select bars of all guitars")),
    ("mouse_cue", N_("drag a cue or its ends"), N_("Move a cue")),
    ("mouse_name", N_("double click on a name"), N_("Rename a section or a guitar")),
    ("mouse_end", N_("drag a section’s end in the strip"),
     N_("Add or take away empty bars; with Ctrl how often the section is played")),
    ("mouse_tempo", N_("drag a section’s upper edge"), N_("Change the tempo")),
    ("mouse_order", N_("drag a section in the strip"), N_("Move a section")),
    ("mouse_menu", N_("right button"), N_("Show what can be done with a note")),
    ("mouse_zoom", N_("Ctrl+wheel, pinch"), N_("Make the grid larger or smaller")),
)  # fmt: skip


def mouse_gestures() -> list[Action]:
    """An entry for each, to be listed; nothing is bound."""
    return [Action(name, _(what), shown=_(how)) for name, how, what in _GESTURES]
