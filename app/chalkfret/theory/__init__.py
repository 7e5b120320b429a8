"""Pitch and spelling, scales, degrees, sounding pitch and the names of notes.

Pure functions of small values; nothing here reads files, draws or makes sentences.
"""
