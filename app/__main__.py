"""`python3 app [arguments]`: make the environment, install Chalkfret into it, start it."""

import sys

from python_version import refuse_old_python

refuse_old_python("app")

from bootstrap import main

sys.exit(main(sys.argv[1:]))
