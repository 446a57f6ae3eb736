"""A roster file from its bytes to a table."""
