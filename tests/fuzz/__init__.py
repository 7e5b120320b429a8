"""Effort and seed of the random tests: `python3 tests fuzz` raises the one, changes the other.

Properties of hypothesis follow by themselves (tests/conftest.py). A test that draws by itself
takes both from here and carries `@pytest.mark.fuzz`, so that a round of fuzzing runs it too.
"""

import os

SEED = int(os.environ.get("CHALKFRET_SEED", "1"))
"""What random.Random is to be given; the same in all checks, another in each round of fuzzing."""

FUZZING = os.environ.get("CHALKFRET_PROFILE") == "fuzz"

FUZZ_ENDS = float(os.environ.get("CHALKFRET_FUZZ_ENDS", "inf"))
"""When no more tests are to begin, in seconds of time.time()."""


def tries(checks: int, fuzz: int) -> int:
    """How often to try: as often as the checks can afford, or a round of fuzzing."""
    return fuzz if FUZZING else checks
