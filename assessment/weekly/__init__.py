"""The week summed up: for a class, a school and each family, on screen, paper and by mail."""
