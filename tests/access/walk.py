"""Asks for anything as anybody, at random, and reads each answer for words of somebody else.

An address is filled from what is there: mostly of one class, mixed with other classes' and other
schools' things and with numbers and names by chance. What is posted is taken from forms that
somebody was shown before, at times with values of other forms. Each request is undone.
"""

import io
import random
import secrets
import zipfile
from collections import Counter
from dataclasses import dataclass, field
from html.parser import HTMLParser
from typing import Any

import pypdfium2
from django.conf import settings
from django.db import connection, transaction
from django.http import HttpResponse
from django.test import Client
from django.urls import NoReverseMatch, Resolver404, resolve, reverse

from portal.people.accounts.reauthentication import FRESH
from portal.people.models import User
from tests.access.planted import WORD, World
from tests.access.scene import Scene, routes

METHODS = (
    *("GET",) * 9,
    *("POST",) * 12,
    *("HEAD", "OPTIONS", "PUT", "PATCH", "DELETE", "TRACE"),
)
KEPT_FORMS = 60  # of one address
# What a refused request may write: that it was refused, who is signed in, that codes were asked.
MAY_WRITE = ("django_session", "people_event", "people_knock", "people_device", "axes_")
HEADERS = (
    {},
    {},
    {},
    {"HTTP_RANGE": "bytes=0-99"},
    {"HTTP_HX_REQUEST": "true"},
    {"HTTP_ACCEPT": "application/json"},
    {"HTTP_X_HTTP_METHOD_OVERRIDE": "DELETE"},
    {"HTTP_TUS_RESUMABLE": "1.0.0"},
)
Fields = list[tuple[str, str]]


class Forms(HTMLParser):
    """Reads the forms of a page: where each leads, and what is filled in."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, Fields]] = []
        self.choosing = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = {name: value or "" for name, value in attrs}
        if tag == "form" and told.get("method", "").lower() == "post":
            self.found.append((told.get("action", ""), []))
        elif not self.found:
            return
        elif tag in ("input", "button", "textarea") and told.get("name"):
            self.found[-1][1].append((told["name"], told.get("value", "")))
        elif tag == "select":
            self.choosing = told.get("name", "")
        elif tag == "option" and self.choosing:
            self.found[-1][1].append((self.choosing, told.get("value", "")))


@dataclass
class Asked:
    """One request, to be told of when its answer is wrong."""

    who: str
    method: str
    address: str
    data: dict[str, Any]
    headers: dict[str, str]

    def __str__(self) -> str:
        return f"{self.who}: {self.method} {self.address} {self.data} {self.headers}"


@dataclass
class Walk:
    """A walk by *seed* through *world*: what was answered, and what was wrong."""

    world: World
    seed: int
    wrong: list[str] = field(default_factory=list)
    statuses: Counter[int] = field(default_factory=Counter)
    opened: set[str] = field(default_factory=set)
    read: set[str] = field(default_factory=set)
    forms: dict[str, list[Fields]] = field(default_factory=dict)
    no_such_method: set[tuple[str, str]] = field(default_factory=set)

    def __post_init__(self) -> None:
        self.random = random.Random(self.seed)
        self.names = sorted(routes())
        self.people: list[tuple[str, User | None]] = [("visitor", None)]
        self.people += sorted(self.world.people.items())
        self.sessions = {user.pk: session_of(user) for _who, user in self.people if user}
        self.writes: set[str] = set()

    def go(self, steps: int) -> "Walk":
        """Ask so many times."""
        with connection.execute_wrapper(self.note_writes):
            for _step in range(steps):
                self.step()
        return self

    def step(self) -> None:
        """Ask once, read the answer, and undo what it did."""
        who, user = self.random.choice(self.people)
        name = self.random.choice(self.names)
        scene = self.scene_for(who)
        asked = Asked(who, self.method(name), self.address(name, scene), {}, {})
        if asked.method == "POST":
            asked.data = self.fields(name)
        asked.headers = self.random.choice(HEADERS)
        client = Client(raise_request_exception=False)
        if user:
            client.cookies[settings.SESSION_COOKIE_NAME] = self.sessions[user.pk]
        self.writes.clear()
        with transaction.atomic():
            answer = self.send(client, asked)
            text = words_of(answer)
            transaction.set_rollback(True)
        self.judge(asked, user, name, answer, text)

    def send(self, client: Client, asked: Asked) -> HttpResponse:
        """Send *asked* and give the answer."""
        if asked.method == "POST":
            return client.post(asked.address, asked.data, **asked.headers)
        return client.generic(asked.method, asked.address, **asked.headers)

    def judge(
        self, asked: Asked, user: User | None, name: str, answer: HttpResponse, text: str
    ) -> None:
        """Note what is wrong with *answer*, and learn its forms."""
        code = answer.status_code
        self.statuses[code] += 1
        if code >= 500:
            self.wrong.append(f"{asked}: {code}")
        found = set(WORD.findall(text.lower()))
        # What the request itself says is no news to whoever sent it.
        told = set(WORD.findall(str(asked.data)))
        for word in self.world.words.not_for(user, found - told):
            self.wrong.append(f"{asked}: {code} tells {self.world.words.places[word]}")
        if code in (403, 404, 405) and self.writes:
            self.wrong.append(f"{asked}: {code} and yet writes to {sorted(self.writes)}")
        self.read |= found
        if code == 405:
            self.no_such_method.add((name, asked.method))
        if code == 200:
            self.opened.add(name)
            if asked.method == "GET" and "html" in answer.get("Content-Type", ""):
                self.learn(asked.address, text)

    def learn(self, page: str, text: str) -> None:
        """Keep the forms of a page, to be filled in by anybody."""
        parser = Forms()
        parser.feed(text)
        for action, fields in parser.found:
            try:
                name = resolve((action or page).split("?")[0]).view_name
            except Resolver404:
                continue
            kept = self.forms.setdefault(name, [])
            if len(kept) < KEPT_FORMS:
                kept.append(fields)
            else:
                kept[self.random.randrange(KEPT_FORMS)] = fields

    def method(self, name: str) -> str:
        """Choose a method, seldom one that was told not to be there: half of all may change."""
        for _try in range(9):
            chosen = self.random.choice(METHODS)
            if (name, chosen) not in self.no_such_method:
                break
        return chosen

    def scene_for(self, who: str) -> Scene:
        """Choose a class: the person's own in two of three requests."""
        own = [each for each in self.world.scenes if who.endswith(f" of {each.village.robins.pk}")]
        return self.random.choice(
            self.random.choice([own or self.world.scenes] * 2 + [self.world.scenes])
        )

    def address(self, name: str, scene: Scene) -> str:
        """Return an address of the page *name*: mostly about *scene*, at times about anything."""
        needed = routes()[name].pattern.converters
        chosen = {key: scene.arguments[Scene.argument(name, key)] for key in needed}
        for key in needed:
            if self.random.random() < 0.15:
                chosen[key] = self.stranger(Scene.argument(name, key), chosen[key])
        try:
            return reverse(name, kwargs=chosen)
        except NoReverseMatch:
            return scene.address(name)

    def stranger(self, key: str, usual: Any) -> Any:
        """Return something else for the argument *key* whose usual value is *usual*."""
        other = self.random.choice(self.world.scenes).arguments
        if isinstance(usual, int):
            number = self.random.randrange(1, 40)
            return self.random.choice([other[key], number, 0, 2**63 - 1])
        tokens = [value for name, value in other.items() if "token" in name]
        if "token" in key:
            return self.random.choice([other[key], *tokens, secrets.token_urlsafe(24)])
        return other[key]

    def fields(self, name: str) -> dict[str, Any]:
        """Fill in a form for the page *name* from one that was seen, at times wrongly."""
        seen = self.forms.get(name, [])
        if not seen or self.random.random() < 0.1:
            seen = [fields for forms in self.forms.values() for fields in forms]
        data: dict[str, Any] = {}
        for field_name, value in self.random.choice(seen) if seen else []:
            if field_name != "csrfmiddlewaretoken" and self.random.random() < 0.9:
                data.setdefault(field_name, []).append(self.value(field_name, value))
        return data

    def value(self, name: str, usual: str) -> str:
        """Return the usual value of a field, or another that a field of that name has had."""
        if self.random.random() > 0.15:
            return usual
        others = [
            value
            for forms in self.forms.values()
            for fields in forms[:5]
            for each, value in fields
            if each == name
        ]
        return self.random.choice([*others, "1", "2", "3", "-1", "yes", "", "x" * 2000])

    def note_writes(self, execute: Any, sql: str, params: Any, many: bool, context: Any) -> Any:
        """Remember the tables that a request writes to, but for those of the log."""
        words = sql.split(None, 3)
        if words[0] in ("INSERT", "UPDATE", "DELETE"):
            table = words[1 if words[0] == "UPDATE" else 2].strip('"')
            if not table.startswith(MAY_WRITE):
                self.writes.add(table)
        return execute(sql, params, many, context)


def session_of(user: User) -> str:
    """Sign *user* in, as one who has just proved who they are, and give the session's key."""
    client = Client()
    client.force_login(user)
    session = client.session
    session[FRESH] = 2**40
    session.save()
    client.get("/account/")  # The device is noted once, and not with every request.
    return session.session_key


def words_of(answer: HttpResponse) -> str:
    """Return all the text in *answer*: its headers, and its content however it is packed."""
    content = b"".join(answer.streaming_content) if answer.streaming else answer.content
    kind = answer.get("Content-Type", "")
    head = "\n".join(f"{name}: {value}" for name, value in answer.items())
    if kind == "application/zip" and content.startswith(b"PK"):
        zipped = zipfile.ZipFile(io.BytesIO(content))
        content = b"\n".join(zipped.read(name) for name in zipped.namelist())
    elif content.startswith(b"%PDF"):
        pages = pypdfium2.PdfDocument(content)
        content = "\n".join(page.get_textpage().get_text_range() for page in pages).encode()
    return head + "\n" + content.decode("utf-8", "replace")
