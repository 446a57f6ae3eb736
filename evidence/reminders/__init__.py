"""Reminders, only where somebody chose them: who is due, what is sent, and how."""
