"""Looks: the queue, one look, marking, marks for the lead, replies and voices."""
