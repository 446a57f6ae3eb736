"""The audit log: what was done and seen, by whom and when."""
