"""The demo's own door. The invented school itself is made by the command demo_school."""
