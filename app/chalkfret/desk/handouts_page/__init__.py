"""The Hand-outs page: the files that leave the desk, for whom and where."""

from chalkfret.desk.handouts_page.page import HandoutsPage

__all__ = ["HandoutsPage"]
