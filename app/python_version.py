"""Refuses an old Python in a sentence; holds nothing that an old one could not read."""

import sys


def refuse_old_python(command):  # noqa: ANN001, ANN201
    """End with exit code 2 where this Python is too old to run `python3 COMMAND`."""
    if sys.version_info < (3, 11):  # noqa: UP036
        sys.stderr.write(
            "Chalkfret needs Python 3.11 or later and this is Python %d.%d: install a newer one "  # noqa: UP031
            "(Debian 12 and later: `sudo apt-get install python3 python3-venv`) and start with "
            "it, for example `python3.11 %s`.\n" % (sys.version_info[:2] + (command,))  # noqa: RUF005
        )
        sys.exit(2)
