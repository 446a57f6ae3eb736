"""Judging: the teacher's decisions, the return, and the second look of another member of staff."""
