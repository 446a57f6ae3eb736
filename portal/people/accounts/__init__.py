"""Accounts: sign-in, second step, sessions, password reset, rate limits, staff."""
