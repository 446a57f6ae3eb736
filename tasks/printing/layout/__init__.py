"""What pages of a PDF are put together from."""
