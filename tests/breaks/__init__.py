"""Each promise of the trust table, with its protection taken away: see `__main__`."""
