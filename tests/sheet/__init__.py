"""Checks of the sheet room."""
