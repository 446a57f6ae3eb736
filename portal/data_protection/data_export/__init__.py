"""A copy to take along: what the apps have of a child, as one file that opens without a network."""
