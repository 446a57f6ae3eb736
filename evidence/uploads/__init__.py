"""Uploads: the form, what it may hold, and what arrives, whole or by tus."""
