"""Views about people, one file for each place."""
