"""The first ten minutes: a few steps for each role that tick themselves off."""
