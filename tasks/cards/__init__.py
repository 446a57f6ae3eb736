"""Cards: what a family reads of a day, in its own language."""
