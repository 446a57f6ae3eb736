"""Work behind the pages: leased rows, slots by weight, and handing work over. Knows no app."""
