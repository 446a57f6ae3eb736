"""Seeing what children showed: the grid, one goal, one child, gaps, groups, taking part."""
