"""The checks, and what else `python3 tests` does: fuzz, bench, shots, one test by its name.

Standard library only. Everything runs headless in the environment of `python3 app`, with the
`dev` extra installed as well. Exit codes: 0, 1 (a check failed), 2 (it could not be run).
"""

import argparse
import os
import random
import subprocess
import time
from collections.abc import Sequence

import bootstrap

PYTEST = ["-m", "pytest", "-q", "--no-header"]
APART = [
    "tests/desk",
    "tests/hand",
    "tests/reference",
    "tests/corpus",
    "tests/bootstrap",
    "tests/house",
]
"""Folders with a step of their own; whatever else lies under tests is a room's."""

CRASH_LINES = 40
CRASHES_MOST = 3

STEPS: list[tuple[str, list[str]]] = [
    ("lint", ["-m", "ruff", "check", "--quiet", "."]),
    ("format", ["-m", "ruff", "format", "--quiet", "--check", "."]),
    ("types", ["-m", "mypy"]),
    (
        "import contracts",
        ["-c", "from importlinter.cli import lint_imports_command as lint; lint()"],
    ),
    ("rooms", [*PYTEST, "-n2", "-m", "not faults", *(f"--ignore={name}" for name in APART)]),
    (
        "window",
        [*PYTEST, "-n2", "--dist", "worksteal", "-m", "not faults", "tests/desk", "tests/hand"],
    ),
    ("outside checks", [*PYTEST, "-n2", "-m", "not faults", "tests/reference"]),
    ("real input", [*PYTEST, "-n2", "-m", "not faults", "tests/corpus"]),
    ("faults", [*PYTEST, "-n2", "-m", "faults"]),
    ("house", [*PYTEST, "tests/house"]),
    ("two commands", [*PYTEST, "tests/bootstrap"]),
]


def main(arguments: Sequence[str]) -> int:
    return bootstrap.reporting(lambda: run(parsed(arguments)))


def parsed(arguments: Sequence[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        prog="python3 tests", description="Run the checks, all of them or those with a name."
    )
    parser.add_argument("-k", dest="name", metavar="NAME", help="only the tests with this name")
    kinds = parser.add_subparsers(dest="kind", metavar="")
    fuzz = kinds.add_parser("fuzz", help="the same properties, longer and with fresh seeds")
    fuzz.add_argument("--minutes", type=float, default=10)
    fuzz.add_argument("--seed", type=int, help="replay the round with this seed")
    fuzz.add_argument("-k", dest="name", metavar="NAME", help="only the properties so named")
    bench = kinds.add_parser("bench", help="the table of speed and memory")
    bench.add_argument("row", nargs="*", help="only the rows whose name holds this")
    shots = kinds.add_parser("shots", help="pictures of every page of window and sheet")
    shots.add_argument("folder", metavar="DIR")
    return parser.parse_args(arguments)


def run(options: argparse.Namespace) -> int:
    bootstrap.ensure("dev")
    bootstrap.ensure_libraries(wants_window=False)
    if options.kind == "fuzz":
        return fuzz(options)
    if options.kind == "bench":
        return python(["-m", "tests.bench", *options.row])
    if options.kind == "shots":
        return python(["-m", "tests.shots", os.path.abspath(options.folder)])
    if options.name:
        return python([*PYTEST, "-n2", "-k", options.name])
    return checks()


def checks() -> int:
    """Every step with a line and its time; a failed one with its output, and on to the next."""
    began = time.monotonic()
    failed: list[str] = []
    crashes: list[str] = []
    for name, command in STEPS:
        start = time.monotonic()
        done = subprocess.run(
            [bootstrap.PYTHON, *command],
            cwd=bootstrap.ROOT,
            env=environment(),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            errors="replace",
            check=False,
        )
        good = done.returncode == 0
        print(f"{name:18}{'ok' if good else 'FAILED':8}{time.monotonic() - start:6.1f} s", end="")
        print(f"   {counted(done.stdout)}" if good else f"\n{done.stdout}", flush=True)
        if not good:
            failed.append(name)
            crashes += crash_heads(done.stdout)
    for head in crashes:  # at the end: of a long output often only the end is seen
        print(f"A process crashed; its trace begins:\n{head}")
    total = f"{time.monotonic() - began:.0f} s"
    print(f"FAILED: {', '.join(failed)}; {total}" if failed else f"All checks passed; {total}")
    return 1 if failed else 0


def counted(output: str) -> str:
    """The last line of pytest, which counts; the other tools say nothing worth a look."""
    last = output.strip().rpartition("\n")[2]
    return last.partition(" in ")[0] if "passed" in last else ""


def crash_heads(output: str) -> list[str]:
    """The first lines of what the interpreter said as it died, for each time it did.

    A worker of pytest that crashes takes its report with it, and the trace stands far above the
    last lines.
    """
    lines = output.splitlines()
    begins = [
        at
        for at, line in enumerate(lines)
        if "Fatal Python error" in line or "Windows fatal exception" in line
    ]
    return ["\n".join(lines[at : at + CRASH_LINES]) for at in begins[:CRASHES_MOST]]


def fuzz(options: argparse.Namespace) -> int:
    """Rounds of all properties, each with a fresh seed, until the minutes are over.

    With a seed it is one round, and the whole of it: the replay of one that failed.
    """
    replay = options.seed is not None
    ends = time.time() + options.minutes * 60
    rounds = 0
    while not rounds or (time.time() < ends and not replay):
        seed = options.seed if replay else random.SystemRandom().randrange(2**32)
        rounds += 1
        print(f"Round {rounds}, seed {seed}.", flush=True)
        command = [*PYTEST, "-n2", "-x", "-m", "hypothesis or fuzz", f"--hypothesis-seed={seed}"]
        command += ["-k", options.name] if options.name else []
        more = {"CHALKFRET_PROFILE": "fuzz", "CHALKFRET_SEED": str(seed)}
        code = python(command, **more, **({} if replay else {"CHALKFRET_FUZZ_ENDS": str(ends)}))
        if code != 0:
            name = f" -k '{options.name}'" if options.name else ""
            print(f"Replay it: python3 tests fuzz --seed {seed}{name}")
            return code
    print(f"{rounds} rounds; nothing failed.")
    return 0


def python(command: Sequence[str], **more: str) -> int:
    """Run the environment's Python with its output shown; its exit code."""
    return subprocess.run(
        [bootstrap.PYTHON, *command],
        cwd=bootstrap.ROOT,
        env={**environment(), **more},
        check=False,
    ).returncode


def environment() -> dict[str, str]:
    return {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
