"""Everything that comes in from files and goes out into them."""
