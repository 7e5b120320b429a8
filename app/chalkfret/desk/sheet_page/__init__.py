"""The Sheet page: the pages as they will print, and the words and paper they are printed with."""

from chalkfret.desk.sheet_page.page import SheetPage

__all__ = ["SheetPage"]
