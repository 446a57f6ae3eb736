"""Planning several days on one focus: drafting, changing, setting and showing them."""
