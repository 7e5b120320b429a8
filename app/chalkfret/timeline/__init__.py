"""Time: repeats unrolled, beats to seconds and back, attacks and clicks.

Conventions
-----------
- *Written ticks* are those of the page, ``model.QUARTER`` a quarter. A *played tick* counts written
  ticks from the first bar line of the lesson (or of a section, where a function says so) through
  everything as it is played, repeats unrolled. Pauses take no ticks.
- *Swung ticks* are played ticks after swing has moved them; the tempo runs over swung ticks.
- Seconds count from the first bar line at full speed, without count-in.
- Parts, sections and bars are indices from 0; passes and beats count from 1.
"""
