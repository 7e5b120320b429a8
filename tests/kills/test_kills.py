"""A process that types, saves and keeps its journal is killed at a random moment, again and again.

After each kill the saved file is the old one or the new one, byte for byte, and what a next start
is offered (or the file, where nothing is) holds every change but the last ones. In the program that
is two seconds: one of the journal's pause, and one for a slow disk. Here the pause is a twentieth,
and the disk has a fifth of a second.

300 runs in the checks: 280 do what the window does without the window, 20 are the real window,
typed into by key events. A round of fuzzing makes 10,000 of them, as far as its minutes reach.
"""

import json
import os
import subprocess
import sys
from pathlib import Path
from random import Random

import pytest

from chalkfret.files.journal import digest
from chalkfret.files.lesson_file import dumps, loads, save
from chalkfret.files.sessions import lost_work
from tests.builder import lesson, section
from tests.fuzz import SEED, tries
from tests.kills.typists import LESSON, LOG, PAUSE_S

BATCHES = tries(4, 134)
PLAIN, IN_WINDOW = 70, 5
"""Runs of a batch."""

LOST_S = PAUSE_S + 0.2
"""What may be lost, in the seconds before the kill."""

LONGEST_S = 0.5
START = lesson(section("A", " | ".join(["q 6:0 3 5 7"] * 4)))
ROOT = Path(__file__).parents[2]


@pytest.fixture
def killer():
    path = os.pathsep.join([str(ROOT), str(ROOT / "app")])
    with subprocess.Popen(
        [sys.executable, "-P", "-m", "tests.kills.killer"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": path, "QT_QPA_PLATFORM": "offscreen"},
    ) as process:

        def kill(**order):
            process.stdin.write(json.dumps(order) + "\n")
            process.stdin.flush()
            return json.loads(process.stdout.readline())

        yield kill
        process.stdin.close()


@pytest.mark.faults
@pytest.mark.fuzz
@pytest.mark.parametrize("batch", range(BATCHES))
def test_kills(batch, killer, tmp_path):
    in_a_save = recovered = 0
    for number in range(PLAIN + IN_WINDOW):
        who = "plain" if number < PLAIN else "window"
        seed = SEED * 10_000_000 + batch * 1_000 + number
        folder = tmp_path / f"{who} {seed}"
        folder.mkdir()
        save(START, folder / LESSON)
        after = Random(seed).random() * LONGEST_S
        end = killer(who=who, seed=seed, folder=str(folder), after=after)
        assert end["killed"]
        was_saving, was_recovered = judge(folder, end["moment"])
        in_a_save += was_saving
        recovered += was_recovered
    assert in_a_save >= 3, "the kills must hit saves as well"
    assert recovered >= PLAIN // 4, "and there must be something to lose"


def judge(folder, moment):
    """Whether the kill came during a save, and whether unsaved work came back; all is right."""
    lines = [line.split() for line in (folder / LOG).read_text().splitlines()]
    states = [(0.0, digest(dumps(START)))]
    may_be_saved = {digest(dumps(START))}
    saving = ""
    for kind, time_, *digests in lines:
        if kind == "E":
            states.append((float(time_), digests[0]))
        elif kind == "S":
            saving = digests[0]
        elif kind == "D":
            may_be_saved, saving = {saving}, ""
    may_be_saved |= {saving} - {""}
    data = (folder / LESSON).read_bytes()
    assert digest(data) in may_be_saved, "the old file or the new one"
    assert dumps(loads(data)) == data
    found = lost_work(folder / "state" / "chalkfret")
    assert len(found) <= 1
    back = digest(found[0].data if found else data)
    for lost in found:
        assert lost.faults == ()
        lost.release()
    reached = max(at for at, (_time, state) in enumerate(states) if state == back)
    needed = max(at for at, (time_, _state) in enumerate(states) if time_ <= moment - LOST_S)
    assert reached >= needed, (
        f"{needed - reached} changes lost, {moment - states[reached + 1][0]:.3f} s before the kill"
    )
    return bool(saving), bool(found)
