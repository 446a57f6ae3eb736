"""A browser for looking."""

from tests.tasks.conftest import opened

__all__ = ["opened"]
