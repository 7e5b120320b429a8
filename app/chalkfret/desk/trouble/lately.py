"""What was done lately: the ids of the last actions, for the report of something unexpected."""

from __future__ import annotations

from collections import deque
from typing import Final

DONE: Final[deque[str]] = deque(maxlen=50)
"""Ids of actions, the newest last. The registry adds to it; ids say nothing of a lesson."""
