"""The window: what the teacher sees and presses. It computes nothing that the other rooms can."""
