"""Every page says in one line what it is for."""

import re

import pytest
from django.db import transaction
from django.test import Client

from tests.access.policy import policy
from tests.access.scene import ROLES, Scene

pytestmark = pytest.mark.django_db
PURPOSE = re.compile(r'<p class="purpose">\s*(.+?)\s*</p>', re.DOTALL)
OPENED = [name for (name, method), codes in policy().items() if method == "GET" and 200 in codes]


@pytest.fixture(scope="module")
def scene(django_db_setup, django_db_blocker):
    """Set the scene once: every request is undone after its answer."""
    with django_db_blocker.unblock(), transaction.atomic():
        yield Scene.build()
        transaction.set_rollback(True)


def open_page(scene: Scene, name: str, role: str) -> str:
    """Return the page *name* as *role* sees it; "" for a file, or for a part of a page."""
    client = Client()
    with transaction.atomic():
        if role != "visitor":
            client.force_login(scene.village.people[role])
        answer = client.get(scene.address(name))
        whole = b"".join(answer) if answer.streaming else answer.content
        transaction.set_rollback(True)
    page = whole.decode(errors="replace")
    return page if page.lstrip().startswith("<!doctype html>") else ""


@pytest.mark.parametrize("name", OPENED)
def test_the_page_says_what_it_is_for(scene, name):
    codes = policy()[name, "GET"]
    roles = [role for role, code in zip(ROLES, codes, strict=True) if code == 200]
    pages = {role: open_page(scene, name, role) for role in roles}
    assert [role for role, page in pages.items() if page and not PURPOSE.search(page)] == []
