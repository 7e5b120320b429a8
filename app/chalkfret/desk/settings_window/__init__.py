"""All settings in one place: each a row with a sentence, its control and the way back."""
