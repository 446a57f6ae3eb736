"""Goals: the sets there are, a school's own, and the one a class is tagged against."""
