"""Erasure of a child, or of a whole school."""
