"""A browser for pages of work and looks."""

from tests.tasks.conftest import opened

__all__ = ["opened"]
