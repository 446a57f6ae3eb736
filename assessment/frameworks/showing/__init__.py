"""What a goal asks to be shown, and how far a piece of work shows it."""
