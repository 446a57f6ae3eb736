"""Backup and restore: making, sealing, the repository, drills."""
