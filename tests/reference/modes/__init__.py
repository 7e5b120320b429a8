"""How often tonic and mode are found in labelled tunes and riffs; `python -m` prints the table."""
