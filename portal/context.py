"""What every page knows: the places its reader can go to."""

from typing import NamedTuple

from django.http import HttpRequest


class Place(NamedTuple):
    """One place of the bar: its word, its address, whether one is there, and its icon."""

    label: str
    url: str
    current: bool = False
    icon: str = "page"


def places(request: HttpRequest) -> dict[str, object]:
    """Give the places of the bar at the top or bottom; none for somebody not signed in."""
    return {"places": []}
