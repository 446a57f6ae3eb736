"""What staff fill in."""
