"""Chalkfret: an editor for guitar lessons in uncommon tunings."""

__version__ = "0.1.0"
