"""A browser for the leaves."""

from tests.tasks.conftest import opened

__all__ = ["opened"]
