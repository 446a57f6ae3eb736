"""Takes the pictures of the README: .venv/bin/python -m tests.tour.take."""
