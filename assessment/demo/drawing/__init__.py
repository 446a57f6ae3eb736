"""Draws the photos and clips of the invented school."""
