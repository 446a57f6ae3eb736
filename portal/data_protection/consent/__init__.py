"""The words homes agree to, and what counts as agreed to in a class."""
