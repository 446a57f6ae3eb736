"""Walks through the demo from each person's start page by its links, one page of each kind."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from html.parser import HTMLParser
from urllib.parse import parse_qs, urljoin, urlsplit

from django.conf import settings
from django.contrib.auth import get_user_model
from django.http import Http404
from django.test import Client
from django.urls import resolve, reverse

from portal.demo.cast import CAST

VISITOR = "visitor"
DOORS = ("/sign-in/", "/come-in/", "/demo/")
ROLES = (VISITOR, *(person.key for person in CAST))
ELSEWHERE = ("demo:as", "demo:step", "demo:components")  # others' pages, and the page of parts
FILES = re.compile(r"(taken|pdf|file|piece)$")  # no pages; and who downloads is written down
VARIANTS = 2  # addresses of one page that differ in what they ask for


@dataclass(frozen=True)
class Visit:
    """One page that was seen: by whom, under which name and address, and its HTML."""

    role: str
    name: str
    address: str
    html: str


class Links(HTMLParser):
    """Gathers where the links of a page lead."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.found: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "a" and (href := dict(attrs).get("href")):
            self.found.append(href)


def walk(role: str, language: str = "") -> Iterator[Visit]:
    """Yield each kind of page that *role* reaches by links, the nearest first.

    language: one that is offered to families; it is chosen as they do, and English again after.
    """
    client = Client(HTTP_HOST=urlsplit(settings.SITE_URL).netloc)
    if role != VISITOR:
        email = next(person.email for person in CAST if person.key == role)
        client.force_login(
            get_user_model().objects.proved(email).get(), settings.AUTHENTICATION_BACKENDS[-1]
        )
    if language:
        client.post(reverse("people:language"), {"language": language})
    waiting = list(DOORS if role == VISITOR else ("/", "/account/"))
    asked: set[str] = set()
    seen: dict[str, set[str]] = {}
    while waiting:
        address = waiting.pop(0)
        if (kind := kind_of(address)) is None or kind in asked:
            continue
        asked.add(kind)
        visit = open_page(client, role, address)
        if visit is None:
            continue
        variants = seen.setdefault(visit.name, set())
        if len(variants) < VARIANTS and kind_of(visit.address) not in variants:
            variants.add(str(kind_of(visit.address)))
            yield visit
            waiting += [urljoin(visit.address, href) for href in Links(visit.html).found]
    if language:
        client.post(reverse("people:language"), {"language": settings.LANGUAGE_CODE})
    client.logout()


def open_page(client: Client, role: str, address: str) -> Visit | None:
    """Open *address*, and where it leads on; None for what is no whole page."""
    answer = client.get(address, follow=True)
    if answer.redirect_chain:
        address = urljoin(address, answer.redirect_chain[-1][0])
    if answer.status_code != 200 or answer.streaming:
        return None
    page = answer.content.decode(errors="replace")
    if not page.lstrip().startswith("<!doctype html>"):
        return None
    path = urlsplit(address)
    name = resolve(path.path).view_name
    return Visit(role, name, path.path + (f"?{path.query}" if path.query else ""), page)


def kind_of(address: str) -> str | None:
    """Name what kind of page an address is of: its view, and what it asks for; None elsewhere."""
    parts = urlsplit(address)
    own = urlsplit(settings.SITE_URL).netloc
    if parts.scheme not in ("", "http", "https") or parts.netloc not in ("", own):
        return None
    try:
        name = resolve(parts.path or "/").view_name
    except Http404:
        return None
    if name in ELSEWHERE or FILES.search(name):
        return None
    return f"{name}?{'&'.join(sorted(parse_qs(parts.query)))}"
