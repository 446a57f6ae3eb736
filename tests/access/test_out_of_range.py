"""Numbers and days that nothing can have, in any address, query or form, are never an error 500."""

from itertools import product

import pytest
from django.db import transaction
from django.test import Client
from django.urls import reverse

from tests.access.scene import Scene, routes

pytestmark = [pytest.mark.django_db, pytest.mark.servers, pytest.mark.proof]
NUMBERS = (2**31, 2**63 - 1, 2**63, 10**30, 10**400)
DAYS = ("0001-01-01", "9999-12-31", "1969-12-31")
WEEKS = ("0001-W01", "9999-W52", "1969-W01")
OF_KIND = {"IntConverter": NUMBERS, "DayInAddress": DAYS, "WeekInAddress": WEEKS}
ASKED = (
    "page",
    "week",
    "date",
    "first",
    "period",
    "framework",
    "before",
    "moving",
    "group",
    "copy",
)
TYPED = ("home", "year", "school_class", "classes", "task", "child", "children", "day", "first",
         "starts", "ends", "number", "position", "period", "since", "until", "who", "goal", "to",
         "version", "week", "framework", "second", "count")  # fmt: skip


@pytest.fixture(scope="module")
def scene(django_db_setup, django_db_blocker):
    """Set the scene once: every request is undone after its answer."""
    with django_db_blocker.unblock(), transaction.atomic():
        yield Scene.build()
        transaction.set_rollback(True)


def beyond(scene: Scene, name: str):
    """Yield the addresses of page *name* with one of its arguments beyond what can be."""
    converters = routes()[name].pattern.converters
    right = {key: scene.arguments[scene.argument(name, key)] for key in converters}
    for key, converter in converters.items():
        for wild in OF_KIND.get(type(converter).__name__, ()):
            # As text: the converter's own way of writing would not write some of these.
            address = reverse(name, kwargs={**right, key: wild})
            yield address


def statuses(scene: Scene, role: str, method: str, addresses, told=None) -> set[int]:
    """Return the answers that *role* gets, undoing whatever each request did."""
    client = Client(raise_request_exception=False)
    found = set()
    with transaction.atomic():
        client.force_login(scene.village.people[role])
        for address in addresses:
            with transaction.atomic():
                answer = getattr(client, method)(address, told or {})
                found.add(answer.status_code)
                transaction.set_rollback(True)
        transaction.set_rollback(True)
    return found


WITH_NUMBERS = [
    name
    for name, pattern in routes().items()
    if any(type(each).__name__ in OF_KIND for each in pattern.pattern.converters.values())
]


@pytest.mark.parametrize("name", WITH_NUMBERS)
def test_nothing_is_at_an_address_beyond_what_can_be(scene, name):
    addresses = list(beyond(scene, name))
    for role, method in product(("lead", "teacher", "family"), ("get", "post")):
        found = statuses(scene, role, method, addresses)
        assert found <= {302, 404, 405}, (role, method, found)


@pytest.mark.parametrize("name", sorted(routes()))
def test_no_query_or_form_with_what_cannot_be_breaks_a_page(scene, name):
    address = scene.address(name)
    for wild in (str(2**63), "9" * 400, "0001-01-01", "9999-12-31", "0001-W01", "9999-W52"):
        for role in ("lead", "teacher", "family"):
            asked = statuses(scene, role, "get", [address], dict.fromkeys(ASKED, wild))
            typed = statuses(scene, role, "post", [address], dict.fromkeys(TYPED, wild))
            assert max(asked | typed) < 500, (role, wild, asked, typed)
