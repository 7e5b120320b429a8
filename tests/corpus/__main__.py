"""The pieces as a table, and every note that is not placed: `python -m tests.corpus`."""

from collections import Counter

from tests.corpus.importing import GRACE, import_score
from tests.corpus.pieces import PIECES
from tests.corpus.reading import parse

print(f"{'piece':44}{'parts':>6}{'bars':>6}{'notes':>7}{'graces':>8}{'unplaced':>10}")
total: Counter[str] = Counter()
for piece in PIECES:
    made = import_score(parse(piece), piece)
    graces = sum(one.why == GRACE for one in made.unplaced)
    counts = {
        "parts": len(made.lesson.parts),
        "bars": len(made.lesson.sections[0].bars),
        "notes": made.notes,
        "graces": graces,
        "unplaced": len(made.unplaced) - graces,
    }
    total.update(counts)
    print("{:44}{:6}{:6}{:7}{:8}{:10}".format(piece.title, *counts.values()))
    for one in made.unplaced:
        if one.why != GRACE:
            print(f"    {one.part}, bar {one.bar}: {one.pitch}, {one.why}")
print("{:44}{:6}{:6}{:7}{:8}{:10}".format(f"{len(PIECES)} pieces", *total.values()))
