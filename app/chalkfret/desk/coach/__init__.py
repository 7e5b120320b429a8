"""First steps: a lesson that teaches the grid by doing, and the line that says what to do next."""
