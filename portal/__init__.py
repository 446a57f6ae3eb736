"""The project, and what every app shares."""

from portal.celery import app as celery_app

__all__ = ["celery_app"]
