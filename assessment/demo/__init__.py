"""The invented school of the demo: its people, its plans, and work drawn by the program."""
