"""Keys a note: lessons written by real key presses into the real window.

``planner`` finds out which keys a practised hand would press (pure: from a lesson to keys),
``player`` presses them, ``python -m tests.hand`` prints the table, a row a lesson.
"""
