"""Fingerings of public-domain melodies and lines, against a plain placement, tune by tune.

The music is what the installed music21 package carries (folk tunes of the 18th and 19th century,
lines of the 16th and 17th that were played on lutes too); nothing of it is kept here but names.
The plain placement takes each note at its lowest fret on the free string where that is, and lays
the hand where it must: as far along the neck as the note asks and no further.
"""
