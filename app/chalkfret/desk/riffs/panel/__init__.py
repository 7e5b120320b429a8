"""The section panel: all that is said of a section, its bars and the note under the cursor."""

from chalkfret.desk.riffs.panel.panel import SectionPanel

__all__ = ["SectionPanel"]
