"""What is wrong with a form is said once, beside the field it is about."""

import re
from collections.abc import Iterator
from html.parser import HTMLParser

import pytest
from django.db import transaction
from django.forms import BaseForm, BoundField
from django.http import HttpResponse
from django.test import Client
from django.test.utils import ContextList
from django.utils import timezone

from tests.access.policy import policy
from tests.access.scene import ROLES, Scene, routes

WRONGS = ("", "7" * 5000)  # neither a date, nor an address, nor a number that can be
# What no browser leaves out: with it a form is answered as one that came through.
KEPT = {"whole": "yes", "form_key": "k" * 22}


class Reading(HTMLParser):
    """The words of a page by the ids of what they stand in, and its fields by their names."""

    SINGLE = ("area", "base", "br", "col", "hr", "img", "input", "link", "meta", "source", "wbr")

    def __init__(self, page: str) -> None:
        super().__init__()
        self.open: list[dict[str, str | None]] = []
        self.said: dict[str, str] = {}
        self.words = ""
        self.fields: dict[str, list[list[str]]] = {}
        self.links: list[str] = []
        self.typed: set[str] = set()
        self.chosen: dict[str, str] = {}
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        held = {"tag": tag, **dict(attrs)}
        if held.get("id"):  # a summary of errors links to these
            self.said.setdefault(str(held["id"]), "")
        if tag == "a":
            self.links.append(str(held.get("href")))
        if tag in ("input", "select", "textarea") and held.get("type") != "hidden":
            about = [each.get("aria-describedby") or "" for each in (*self.open, held)]
            self.fields.setdefault(str(held.get("name")), []).append(" ".join(about).split())
            if tag == "textarea" or held.get("type") not in ("checkbox", "radio", "file"):
                self.typed.add(str(held.get("name")))
        if tag == "option" and self.open[-1]["tag"] == "select":
            self.chosen.setdefault(str(self.open[-1]["name"]), str(held.get("value")))
        if tag not in self.SINGLE:
            self.open.append(held)

    def handle_endtag(self, tag: str) -> None:
        while self.open and self.open.pop()["tag"] != tag:
            pass

    def handle_data(self, data: str) -> None:
        if self.open and self.open[-1]["tag"] in ("script", "style", "textarea"):
            return
        self.words += data
        for each in self.open:
            if each.get("id"):
                self.said[str(each["id"])] += data


def even(text: str) -> str:
    """Return *text* with its white space evened out."""
    return " ".join(text.split())


def forms_of(contexts: ContextList | None) -> Iterator[BaseForm]:
    """Yield each form with errors that a page was made of."""
    seen = set()
    for context in contexts or []:
        for held in context.dicts if hasattr(context, "dicts") else [context]:
            for value in held.values():
                if isinstance(value, BaseForm) and value.is_bound and value.errors:
                    if id(value) not in seen:
                        yield value
                    seen.add(id(value))


def faults(answer: HttpResponse) -> list[str]:
    """List what is said twice, nowhere, or not where the field looks for it."""
    page = Reading(body(answer))
    wrong = []
    for form in forms_of(answer.context):
        if not any(is_drawn(field, page) for field in form.visible_fields()):
            continue  # sent off an old page: the page as it is now has another form
        told = [str(error) for error in form.non_field_errors()]
        for name, errors in form.errors.items():
            if name != "__all__":
                told += errors
                wrong += [] if form[name].is_hidden else faults_of(form[name], page)
        for words in {even(each) for each in told}:
            times, wanted = even(page.words).count(words), sum(even(t) == words for t in told)
            wrong += [f"{words!r} {times} times and not {wanted}"] if times != wanted else []
    wrong += [f"{link} leads nowhere" for link in page.links if leads_nowhere(link, page)]
    return wrong


def is_drawn(field: BoundField, page: Reading) -> bool:
    """Whether *page* has a place to fill *field* in."""
    at = field.id_for_label
    return at in page.said if at else field.html_name in page.fields


def faults_of(field: BoundField, page: Reading) -> list[str]:
    """List what is amiss with the errors of one field that can be seen."""
    beside = f"{field.auto_id}_error"
    if any(even(error) not in even(page.said.get(beside, "")) for error in field.errors):
        return [f"{field.html_name} does not say what is amiss"]
    if not any(beside in about for about in page.fields.get(field.html_name, [])):
        return [f"{field.html_name} is not described by what is amiss with it"]
    return []


def leads_nowhere(link: str, page: Reading) -> bool:
    return bool(re.match("#id_", link)) and link[1:] not in page.said


@pytest.fixture(scope="module")
def scene(django_db_setup, django_db_blocker):
    """Set the scene once."""
    with django_db_blocker.unblock(), transaction.atomic():
        yield Scene.build()
        transaction.set_rollback(True)


def signed_in(scene: Scene, role: str) -> Client:
    """Return a client of somebody who has just signed in."""
    client = Client()
    if role != "visitor":
        client.force_login(scene.village.people[role])
        session = client.session
        session["fresh"] = int(timezone.now().timestamp())
        session.save()
    return client


def pages_with_errors(scene: Scene, role: str) -> Iterator[tuple[str, HttpResponse]]:
    """Yield each page on which *role* is told what is wrong with what was filled in."""
    for name in routes():
        if policy()[name, "POST"][ROLES.index(role)] == 405:
            continue
        address = scene.address(name)
        page = Reading(body(ask(scene, role, "get", address, {})))
        for wrong in WRONGS:
            # What is chosen from a list cannot be wrong, and boxes stay empty.
            typed = dict.fromkeys(page.typed, wrong) | page.chosen | KEPT
            answer = ask(scene, role, "post", address, typed)
            if any(forms_of(answer.context)):
                yield name, answer


def ask(scene: Scene, role: str, method: str, address: str, sent: dict[str, str]) -> HttpResponse:
    """Return the answer to a request, whatever it did undone."""
    with transaction.atomic():
        answer = getattr(signed_in(scene, role), method)(address, sent)
        transaction.set_rollback(True)
    return answer


def body(answer: HttpResponse) -> str:
    """Return the page of *answer*; nothing where it is a file."""
    return "" if answer.streaming else answer.content.decode(errors="replace")


@pytest.mark.django_db
@pytest.mark.parametrize(("role", "least"), [("visitor", 5), ("family", 4), ("lead", 20)])
def test_every_error_is_told_once_and_beside_its_field(scene, role, least):
    met, wrong = set(), {}
    for name, answer in pages_with_errors(scene, role):
        met.add(name)
        if found := faults(answer):
            wrong.setdefault(name, found)

    assert not wrong, "\n".join(f"{k}: {v}" for k, v in wrong.items())
    assert len(met) >= least, met
