"""Fetching the pinned libraries at the first start; uses the standard library alone."""
