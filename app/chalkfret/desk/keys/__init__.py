"""Keys: chosen by the teacher, reached on every keyboard, listed and printed."""
