"""What was set, for whom, and what it could have shown."""
