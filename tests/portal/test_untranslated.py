"""No word of a family's page is left untranslated: each is looked at in a made-up language."""

import pytest
from django.core import mail
from django.db import transaction
from django.test import Client
from django.urls import reverse

from evidence.models import Piece
from evidence.submissions.who_looked import PIECE, SEEN
from portal.people.languages import COOKIE, STAFF_DOORS
from portal.people.mails import address_changed, sign_in_code
from portal.people.models import AddressNotice, Event, SignInCode
from tests.access.policy import policy
from tests.access.scene import ROLES, Scene
from tests.portal.made_up_language import MADE_UP, outside, spoken_here, untranslated

pytestmark = pytest.mark.django_db
# No page, or one of staff that shows nothing to a family.
FOR_STAFF = {"healthz", "people:classes"}
VISITORS = [
    name
    for (name, method), codes in policy().items()
    if method == "GET" and codes[0] == 200 and name not in STAFF_DOORS | FOR_STAFF
]
FAMILIES = [
    name
    for (name, method), codes in policy().items()
    if method == "GET"
    and codes[ROLES.index("family")] == 200
    and name not in VISITORS
    and name not in STAFF_DOORS | FOR_STAFF
]
# Of people, places and things, and signs: the same in every language.
NAMES = {
    *("Aisha", "Cal", "Family", "Teacher", "family@example.org", "Harbour Lane", "Robins", "Wrens"),
    *("Kitchen Counter", "English", "Made up", "A4", "a phone", "phone"),
    *("JPEG, PNG, WebP, HEIC, AVIF, GIF", "MP4, MOV, 3GP, WebM", "M4A, MP3, OGG, WAV", "PDF"),
}


@pytest.fixture(scope="module")
def scene(django_db_setup, django_db_blocker):
    """Set the scene once: every request is undone after its answer."""
    with django_db_blocker.unblock(), transaction.atomic():
        built = Scene.build()
        family = built.village.people["family"]
        family.language = MADE_UP
        family.save()
        let_staff_look(built)
        yield built
        transaction.set_rollback(True)


def let_staff_look(scene: Scene) -> None:
    """Have each role look at and copy what was sent, and a lead copy all that is kept."""
    child = scene.village.aisha
    for role in Event.Role:
        for what in SEEN:
            for piece in Piece.objects.filter(submission__child=child):
                Event.objects.create(role=role, what=what, kind=PIECE, object_id=piece.pk)
    kept = {"kind": "people.child", "object_id": child.pk, "what": Event.What.EXPORTED}
    Event.objects.create(role=Event.Role.LEAD, **kept)


@pytest.fixture(autouse=True)
def language(settings, monkeypatch):
    """Offer the made-up language."""
    with spoken_here(settings, monkeypatch):
        yield


def page(
    scene: Scene, role: str, name: str, method: str = "get", data: dict[str, str] | None = None
) -> str:
    """Return a page as *role* reads it, and undo whatever the request did; "" for what is none."""
    client = Client()
    client.cookies[COOKIE] = MADE_UP
    with transaction.atomic():
        if role != "visitor":
            client.force_login(scene.village.people[role])
        response = getattr(client, method)(scene.address(name), data or {})
        kind = response.headers.get("Content-Type", "")
        content = response.content.decode() if kind.startswith("text/html") else ""
        transaction.set_rollback(True)
    return content


@pytest.mark.parametrize("name", FAMILIES)
def test_a_family_reads_every_page_in_its_language(scene, name: str):
    assert untranslated(page(scene, "family", name), NAMES) == []


@pytest.mark.parametrize("name", VISITORS)
def test_a_visitor_reads_every_page_at_the_door_in_the_language_chosen(scene, name: str):
    assert untranslated(page(scene, "visitor", name), NAMES) == []


@pytest.mark.parametrize(
    ("role", "name", "data"),
    [
        ("visitor", "people:sign-in", {}),
        ("visitor", "people:sign-in", {"email": "not an address"}),
        ("visitor", "people:come-in", {}),
        ("visitor", "people:come-in", {"slip": "ABCD-EFGH", "name": "", "email": "x"}),
        ("family", "evidence:send", {}),
        ("family", "evidence:send-more", {}),
    ],
)
def test_what_is_to_be_mended_is_said_in_the_language(scene, role: str, name: str, data: dict):
    html = page(scene, role, name, "post", data)
    assert "⟦" in html
    assert untranslated(html, NAMES | {"not an address", "ABCD-EFGH"}) == []


def test_a_page_that_is_not_there_says_so_in_the_language(scene):
    client = Client()
    client.force_login(scene.village.people["family"])
    html = client.get("/nowhere/").content.decode()
    assert "⟦" in html and untranslated(html, NAMES) == []


def test_the_family_pages_are_many(scene):
    assert len(FAMILIES) >= 12
    assert sum("⟦" in page(scene, "family", name) for name in FAMILIES) >= 10


def test_mails_are_in_the_language_of_who_gets_them(scene):
    family = scene.village.people["family"]
    sign_in_code(SignInCode.ask(family, "browser")).send()
    address_changed(AddressNotice(user=family, email="old@example.org")).send()
    for sent in mail.outbox:
        assert outside(sent.subject).strip() == outside(sent.body).strip() == ""
    assert len(mail.outbox) == 2


def test_the_page_says_which_language_it_is_in(scene):
    client = Client()
    client.force_login(scene.village.people["family"])
    response = client.get(reverse("tasks:today"))
    assert response.headers["Content-Language"] == MADE_UP
    assert f'<html lang="{MADE_UP}" dir="ltr">' in response.content.decode()
    client.force_login(scene.village.people["teacher"])
    assert client.get(reverse("people:classes")).headers["Content-Language"] == "en-gb"
