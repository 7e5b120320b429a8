r"""Text tab: a lesson as plain text that can be read, mailed and typed, and back.

How text tab is written is common practice and no standard. Ours is a careful case of it: one
line a string, the treble side on top, its name before the first bar line; above them the lengths
as letters, the count, and marks that hold over several notes.

Conventions
-----------
- ``w h q e s t y`` are lengths from the whole note to the 64th, ``q.`` dotted, ``e3`` one of three
  in the time of two (5 and 7 in the time of 4, 9 of 8), ``q2:35`` any other share of a quarter. A
  letter stands over each place where something starts or ends; with nothing below it is a rest.
- A note lasts to the next letter. Where ``=`` stands below that letter it goes on.
- ``h p`` hammer-on and pull-off, ``/ \`` a slide from the note before (where none leads up to it,
  into the note from nowhere), ``s`` a slide from a note that ended earlier, ``// \\`` into the note
  though one leads up to it, ``7/`` out of it; ``7b9r7`` bend and release, ``7pb9`` pre-bend;
  ``~`` vibrato, ``V`` wide; ``tr9`` trill; ``t7`` tap; ``x`` dead; ``(7)`` tied where the same fret
  leads up to it, else ghost; ``((7))`` ghost and ``(=7)`` tied in the other case; ``<12>`` natural
  harmonic, ``5<17>`` artificial.
- ``PM--|``, ``let ring--|`` (``LR``), ``TP--|``, ``>``, ``.``, ``d u`` over the strings mean all
  notes struck there; where only some are meant, ``m L z3 > ' d u`` stand behind the fret.
- ``|: :|`` repeats, ``x4`` how often, ``[1,2.]`` endings, ``7/8`` a change of meter, ``pickup``.
- ``+`` in the place of a bar line: the bar goes on in the next line, as it is wider than a page.
- The labels (``Title:``, ``Tempo:`` ...) are part of the form and stay English, so that a text
  reads the same everywhere.

What text does not carry, and ``carried`` takes away: ids; gauges, scale length and all else of a
setup but pitches and capo; tone and voice of a part; cues, the wish for the shape key, and what the
sheet shows; a bar's pauses, steps, simile, breaks and joined rests; language, naming, performed
order, talking points, hand shapes, students' setups; fretting fingers, voices and wished spellings
of notes; the fret under a dead note; the exact curve of a bend (its steps stay, to the
quarter-tone, above the fretted pitch); of notes that overlap on a string the end of the first.

Data goes one way: ``carried -> write`` to text, and ``lines -> staves -> bars -> timing -> read``
back. Nothing raises on any text.
"""

from __future__ import annotations

from chalkfret.files.text_tab.carried import carried
from chalkfret.files.text_tab.read import Reading, read_text
from chalkfret.files.text_tab.write import WIDTH, write_text

__all__ = ["WIDTH", "Reading", "carried", "read_text", "write_text"]
