"""A piece that is another child's, or shows another child's work too: staff put it right."""
