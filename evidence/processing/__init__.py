"""What is made of a piece once it is stored."""
