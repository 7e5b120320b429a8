"""`python3 app [arguments]`: make the environment, install Chalkfret into it, start it.

This file is what an old Python is given to read, so it holds nothing that one could not parse.
"""

import sys

if sys.version_info < (3, 11):  # noqa: UP036
    sys.stderr.write(
        "Chalkfret needs Python 3.11 or later and this is Python %d.%d: install a newer one "  # noqa: UP031
        "(Debian 12 and later: `sudo apt-get install python3 python3-venv`) and start with it, "
        "for example `python3.11 app`.\n" % sys.version_info[:2]
    )
    sys.exit(2)

from bootstrap import main

sys.exit(main(sys.argv[1:]))
