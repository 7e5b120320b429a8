"""Random sessions in the real window: hands that press whatever there is.

``python -m tests.desk.sessions "SEED"`` plays the sessions of a seed again and prints what is done.
"""
