"""How far our spelling agrees with the print of 200 public-domain pieces; `python -m` for the table."""
