"""Keeping a running portal well: backup and restore, the look-over, figures, logs."""
