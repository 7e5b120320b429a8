"""What `python3 tests` says of a step that failed."""

import subprocess
import sys

from tests.checks import CRASH_LINES, CRASHES_MOST, crash_heads


def test_the_head_of_a_crash_is_found_under_all_that_follows():
    trace = ["Fatal Python error: Segmentation fault", *(f"line {n}" for n in range(200))]
    (head,) = crash_heads("\n".join(["....", *trace, "1 failed"]))
    assert head.splitlines() == trace[:CRASH_LINES]
    assert crash_heads("all passed") == []
    assert len(crash_heads("\n".join(trace * 5))) == CRASHES_MOST


def test_a_worker_that_crashes_is_heard(tmp_path):
    """As in the checks: pytest in workers, one of which dies of a segmentation fault."""
    test = tmp_path / "test_it.py"
    test.write_text("import ctypes\ndef test_it():\n    ctypes.string_at(0)\n")
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-n1", "-p", "no:cacheprovider", str(test)],
        cwd=tmp_path,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        check=False,
    )
    assert done.returncode != 0
    (head,) = crash_heads(done.stdout)
    assert "string_at" in head
    assert "test_it" in head
