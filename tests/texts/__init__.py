"""The catalogues of translated texts: see __main__.py."""
