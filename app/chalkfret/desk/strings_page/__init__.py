"""The Strings page: what each guitar is strung and tuned with, and what that means."""

from chalkfret.desk.strings_page.page import StringsPage

__all__ = ["StringsPage"]
