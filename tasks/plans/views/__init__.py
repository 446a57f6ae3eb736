"""Pages and actions: `week` and `day` show plans, `actions` and `parts` change them, `cards` are
what families read."""
