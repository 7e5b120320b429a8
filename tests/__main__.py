"""`python3 tests`: install with what the checks need, then run them; see checks.py."""

import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.dirname(os.path.abspath(__file__))), "app"))

from python_version import refuse_old_python

refuse_old_python("tests")

from checks import main

sys.exit(main(sys.argv[1:]))
