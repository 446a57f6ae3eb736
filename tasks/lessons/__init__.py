"""The day's questions before the whole class: each a scene whose things can be moved."""
