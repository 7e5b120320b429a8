"""The window: what the teacher sees and presses. It computes nothing that the other rooms can."""

from chalkfret.desk.plain_imports import import_plainly
from chalkfret.desk.trouble.overrides import mend

import_plainly()
mend()  # before the first class of ours is made of one of Qt's
