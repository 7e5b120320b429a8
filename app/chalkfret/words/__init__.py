"""What the program says: sentences made from values, in the language of the user."""
