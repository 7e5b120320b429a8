"""The table of agreement, a row a genre: `python -m tests.reference.spelling`; some ten minutes."""

from tests.reference.spelling.agreement import Agreement, agreement
from tests.reference.spelling.pieces import GENRES, corpus_root, drawn
from tests.reference.spelling.reading import read

COLUMNS = ("pieces", "notes", "agree %", "outside", "agree %", "by itself %", "music21 %")


def row(name: str, pieces: int, found: Agreement) -> str:
    shares = (
        f"{pieces:9}",
        f"{found.notes:9}",
        f"{100 * found.ours / found.notes:9.2f}",
        f"{found.outside:9}",
        f"{100 * found.ours_outside / max(1, found.outside):9.2f}",
        f"{100 * found.alone / found.notes:12.2f}",
        f"{100 * found.theirs / found.notes:10.2f}",
    )
    return f"{name:40}" + "".join(shares)


def main() -> None:
    if corpus_root() is None:
        print("The music21 corpus is not installed: there is nothing to compare with.")
        return
    widths = (9, 9, 9, 9, 9, 12, 10)
    heads = zip(COLUMNS, widths, strict=True)
    print(f"{'genre':40}" + "".join(f"{head:>{width}}" for head, width in heads))
    total, count = Agreement(), 0
    for genre in GENRES:
        found, pieces = Agreement(), drawn(genre)
        for piece in pieces:
            found = found.plus(agreement(read(piece)))
        print(row(genre.name, len(pieces), found), flush=True)
        total, count = total.plus(found), count + len(pieces)
    print(row("all", count, total))


main()
