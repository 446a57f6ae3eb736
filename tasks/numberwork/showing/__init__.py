"""What a question can show of a child: how far, by which means, and what has to be seen."""
