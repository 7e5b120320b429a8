"""Tonic and mode found from the notes: ranked candidates, each with the evidence for it."""
