"""Schools: years, closures, classes, and moving up."""
