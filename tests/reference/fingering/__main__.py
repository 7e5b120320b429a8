"""``python -m tests.reference.fingering`` prints the table of all pieces."""

from tests.reference.fingering.measuring import PIECES, measured, table

print(table([measured(*piece) for piece in PIECES]))
