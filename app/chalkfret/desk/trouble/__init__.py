"""What nobody foresaw: caught wherever it happens, told in plain words, written into a report.

``catching`` takes hold of every road on which an exception leaves Python, ``described`` turns one
into lines without anything personal, ``report`` puts them together, ``crashes`` keeps the trace of
a crash for the next start, and ``telling`` says it in the window.
"""
