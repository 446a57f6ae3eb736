"""What a teacher types herself: the numbers of a kind's questions, and questions of her own."""
