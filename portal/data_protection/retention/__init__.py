"""Retention: how long what is kept, and the purge at night."""
