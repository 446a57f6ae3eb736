"""Mistakes: naming the one behind a set of answers, and what to do about it."""
