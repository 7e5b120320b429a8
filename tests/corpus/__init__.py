"""Real input: public-domain pieces of the installed music21 corpus as lessons, all the way out."""
