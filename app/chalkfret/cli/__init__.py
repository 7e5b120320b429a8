"""The command line: the same computations as the window, for scripts and for those who like it.

Exit codes: 0; 1 where a lesson has faults; 2 for usage, files and the system.
"""

from chalkfret.cli.start import main

__all__ = ["main"]
