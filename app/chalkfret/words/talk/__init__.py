"""Talking points: what a teacher can say on camera, computed, and where each comes from.

``facts`` are the values, ``setups``, ``music`` and ``hard`` find them, ``found`` puts them in
order, ``sentences`` says them, ``points`` sets the teacher's own words in their place, ``text``
writes them down.
"""
