"""`python -m chalkfret`: the command line."""

import sys

from chalkfret.cli import main

sys.exit(main())
