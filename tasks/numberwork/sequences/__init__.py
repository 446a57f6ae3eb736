"""Drafting sequences of days: routes, what comes back, and what is asked."""
