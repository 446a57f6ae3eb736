"""Plans: the days of a class, their parts, prompts and groups."""
