"""Looking the portal over: one line for each thing, in words, with what to do about it."""
