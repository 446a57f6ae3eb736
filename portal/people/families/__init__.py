"""Families: children, homes, guardianships, invitations and consent."""
