"""What people type: at the door, about their account, and to keep a roster."""
