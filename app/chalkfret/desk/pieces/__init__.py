"""Small widgets that several pages are made of."""
