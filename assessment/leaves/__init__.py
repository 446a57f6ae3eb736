"""What a child did and what the teacher said to it, a leaf each, for the home that sent it."""
