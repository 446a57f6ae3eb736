"""Pages and deeds: `week` and `day` show plans, `deeds` and `parts` change them, `cards` are
what families read."""
