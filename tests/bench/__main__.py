"""The table of speed and memory: `python3 tests bench [ROW ...]`.

A row is a module of tests/bench/rows with NAME, AGAINST, BUDGET and `measure()`, which returns
what was measured and what it is held against, in the same unit and from the same run; a row may
have `prepare()`, called once before. Each row runs in a process of its own and alone; the ratio
that counts is the median of five. Exit code 1 where a budget is missed.
"""

import json
import statistics
import subprocess
import sys
from collections.abc import Sequence
from importlib import import_module
from pathlib import Path

ROWS = Path(__file__).parent / "rows"
TIMES = 5


def main(wanted: Sequence[str]) -> int:
    names = sorted(path.stem for path in ROWS.glob("[a-z]*.py"))
    if wanted:
        names = [name for name in names if any(each in name for each in wanted)]
    if not names:
        print("no row has such a name", file=sys.stderr)
        return 2
    missed = 0
    print(f"{'row':70}{'measured':>11}{'against':>11}{'ratio':>8}{'budget':>8}")
    for name in names:
        found = in_own_process(name)
        if found is None:
            print(f"{name:70}FAILED", flush=True)
            missed += 1
            continue
        good = found["ratio"] <= found["budget"]
        missed += not good
        print(
            f"{found['name']:70}{found['measured']:>11}{found['against']:>11}"
            f"{found['ratio']:8.2f}{found['budget']:8.2f}{'' if good else '  MISSED'}",
            flush=True,
        )
    return 1 if missed else 0


def in_own_process(name: str) -> dict | None:
    done = subprocess.run(
        [sys.executable, "-m", "tests.bench", "--one", name], stdout=subprocess.PIPE, text=True
    )
    return json.loads(done.stdout.splitlines()[-1]) if done.returncode == 0 else None


def one(name: str) -> None:
    """Measure one row and print it as a line of JSON."""
    row = import_module(f"tests.bench.rows.{name}")
    if hasattr(row, "prepare"):
        row.prepare()
    pairs = sorted((row.measure() for _ in range(TIMES)), key=lambda pair: pair[0] / pair[1])
    measured, against = pairs[TIMES // 2]
    unit = getattr(row, "UNIT", "ms")
    print(
        json.dumps(
            {
                "name": row.NAME,
                "measured": shown(measured, unit),
                "against": shown(against, unit),
                "ratio": statistics.median(one / other for one, other in pairs),
                "budget": row.BUDGET,
            }
        )
    )


def shown(value: float, unit: str) -> str:
    """Seconds as milliseconds, bytes as megabytes."""
    return f"{value * 1000:.1f} ms" if unit == "ms" else f"{value / 1e6:.0f} MB"


if __name__ == "__main__":
    if sys.argv[1:2] == ["--one"]:
        one(sys.argv[2])
    else:
        sys.exit(main(sys.argv[1:]))
