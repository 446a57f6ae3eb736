"""Goals as pictures: a class by its goals, a child over the year, and the table behind both."""
