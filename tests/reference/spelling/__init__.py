"""How far our spelling agrees with the print of 200 public-domain pieces; run it for the table."""
