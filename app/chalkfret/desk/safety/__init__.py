"""No work lost: the journal, saving beside the window, what changed behind it, and the way back."""
