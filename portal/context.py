"""What every page knows: the places its reader can go to."""

from django.http import HttpRequest


def places(request: HttpRequest) -> dict[str, object]:
    """Give the places of the bar at the top or bottom; none for somebody not signed in."""
    return {"places": []}
