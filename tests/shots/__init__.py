"""Pictures to look at: `python3 tests shots DIR`."""
