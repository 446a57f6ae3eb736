"""What becomes of children's data: how long it is kept, what can be taken along, what is erased.

Knows no app above it: each tells its part by functions named in settings (see hooks.py).
"""
