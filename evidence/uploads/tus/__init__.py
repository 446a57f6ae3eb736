"""Uploads that go on after a break: the tus 1.0.0 protocol, from the first byte to the piece."""
