"""No bad file opens half, ends in a traceback, or takes its time.

20,000 files in the checks, in batches so that they can share the processors; a round of fuzzing
tries as many others. A failure prints the line that makes the same file again.
"""

import sys
import time
from functools import cache
from pathlib import Path
from random import Random

import pytest

from chalkfret.cli import main
from chalkfret.files.canonical import dumps
from chalkfret.files.lesson_file import loads
from chalkfret.files.trouble import BadFile
from chalkfret.model import validate
from chalkfret.words.sentences import sentence
from tests.faults.mutations import mutated
from tests.files.anything import drawn_sound
from tests.fuzz import SEED, tries

BATCHES = 20
EACH = tries(1_000, 2_500)
SLOWEST_S = 2.0
SHARED = Path(__file__).parents[2] / "shared"


def bad_file(seed: int) -> bytes:
    """The mutated file of a number: of a lesson of every field, or of an example file."""
    draw = Random(seed)
    return mutated(draw.choice(sound_files()), draw)


@cache
def sound_files() -> list[bytes]:
    """Lessons of every field, and the example files."""
    examples = [path.read_bytes() for path in sorted(SHARED.glob("examples/*.chalkfret"))]
    return [*examples, *(dumps(drawn_sound(seed)) for seed in range(40))]


def judge(data: bytes) -> str:
    """What became of a file: ``opened`` or ``refused``; anything else is an error."""
    start = time.process_time()  # of this process alone: other work on the machine is no fault
    made, faults = None, ()
    try:
        made = loads(data)
    except BadFile as bad:
        faults = bad.faults
    said = [sentence(fault) for fault in faults]
    assert time.process_time() - start < SLOWEST_S
    if made is None:
        assert 1 <= len(faults) <= 20
        assert all(len(line.splitlines()) == 1 and "\0" not in line for line in said)
        assert "file_refused" not in {fault.code for fault in faults}  # types and walk disagree
        return "refused"
    assert validate(made) == ()
    assert loads(dumps(made)) == made
    return "opened"


@pytest.mark.faults
@pytest.mark.fuzz
@pytest.mark.parametrize("batch", range(BATCHES))
def test_mutated_files(batch):
    outcomes = set()
    for number in range(batch * EACH, (batch + 1) * EACH):
        seed = SEED * 10_000_000 + number
        try:
            outcomes.add(judge(bad_file(seed)))
        except Exception:
            print(f"Replay it: PYTHONPATH=app .venv/bin/python -m {__name__} {seed}")
            raise
    assert outcomes == {"opened", "refused"}  # else nothing was tried


@pytest.mark.faults
def test_the_command_line_says_what_is_wrong_with_any_file(tmp_path, capsys):
    path = tmp_path / "bad.chalkfret"
    for number in range(200):
        path.write_bytes(bad_file(SEED * 10_000_000 + number))
        code = main(["check", str(path)])
        said = capsys.readouterr()
        assert (code, said.err) in {(0, ""), (1, "")}
        assert all(line.startswith(f"{path}: ") for line in said.out.splitlines())
        assert ("fault: " in said.out) == (code == 1)


if __name__ == "__main__":
    print(judge(bad_file(int(sys.argv[1]))))
