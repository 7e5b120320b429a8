"""The printable lesson sheet: stages that turn a lesson into pages, and painters for the pages.

Stages, each its own module and each a pure function with a cache keyed by the smallest value it
depends on::

    rhythm    onsets and lengths of a bar  -> notes, rests, dots, ties, tuplets, beams
    barshape  a bar of all parts           -> columns, the springs between them, the lanes it needs
    systems   bars of a section            -> runs of bars that share a line
    staff     bars of one system           -> a block of the display list
    pages     blocks of the whole lesson   -> pages
    painter   a page                       -> any QPainter: screen, PDF

Conventions: lengths are millimetres, y runs down, text sizes are millimetres of the em; time is
ticks of ``model.meter``. Nothing but ``painter`` and its helpers ``paint_*`` knows Qt.
"""
