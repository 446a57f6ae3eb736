"""Every address × every role gives the answer in the policy, and no address is left out."""

import re
from html import unescape
from itertools import product

import pytest
from django.db import transaction
from django.test import Client

from portal.people.models import Child
from tests.access.policy import policy
from tests.access.scene import ROLES, Scene, routes

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
PUBLIC = {
    *(
        "healthz",
        "metrics",
        "people:sign-in",
        "people:code",
        "people:staff-sign-in",
        "people:forgotten",
        "people:come-in",
        "people:link",
        "people:set-password",
    ),
    *("evidence:uploads", "evidence:service-worker", "evidence:no-line"),
    *("people:language", "people:sign-out", "assessment:stop-mail", "evidence:reminders-stop"),
}


@pytest.fixture(scope="module")
def scene(django_db_setup, django_db_blocker):
    """Set the scene once: every request is undone after its answer."""
    with django_db_blocker.unblock(), transaction.atomic():
        yield Scene.build()
        transaction.set_rollback(True)


def ask(scene: Scene, role: str, name: str, method: str) -> int:
    """Return the status that *role* gets, and undo whatever the request did."""
    client = Client(raise_request_exception=False)
    with transaction.atomic():
        if role != "visitor":
            client.force_login(scene.village.people[role])
        status = client.generic(method, scene.address(name)).status_code
        transaction.set_rollback(True)
    return status


def test_the_policy_lists_every_address_and_no_other():
    assert set(policy()) == set(product(routes(), ["GET", "POST"]))


@pytest.mark.parametrize(("name", "method"), policy())
def test_each_role_gets_the_answer_of_the_policy(scene, name, method):
    answers = {role: ask(scene, role, name, method) for role in ROLES}
    assert answers == dict(zip(ROLES, policy()[name, method], strict=True))


def test_a_visitor_reaches_only_the_public_addresses():
    not_reached = (302, 404, 405)
    reached = {name for (name, _method), codes in policy().items() if codes[0] not in not_reached}
    assert reached - {"people:code", "people:sign-out"} <= PUBLIC


@pytest.mark.parametrize("role", ["other family", "other teacher", "foreign lead"])
def test_nobody_from_elsewhere_reaches_anything_about_aisha(role):
    about_her = [
        codes
        for (name, _method), codes in policy().items()
        if name not in ("assessment:stop-mail", "evidence:reminders-stop")
        and {"child_pk", "token"} & set(routes()[name].pattern.converters)
    ]
    assert {codes[ROLES.index(role)] for codes in about_her} == {404, 405}


def test_no_title_names_a_child_since_a_shared_computer_keeps_titles_in_its_history(scene):
    names = set(Child.objects.values_list("first_name", flat=True))
    titles: dict[str, str] = {}
    for role in ROLES[1:]:
        client = Client()
        client.force_login(scene.village.people[role])
        for name in routes().keys() - titles.keys():
            answer = client.get(scene.address(name))
            page = "" if answer.streaming else answer.content.decode(errors="replace")
            found = re.search(r"<title>(.*?)</title>", page, re.DOTALL)
            if found and answer.status_code == 200:
                titles[name] = unescape(found[1])
    assert len(titles) > len(routes()) / 4
    assert {at: said for at, said in titles.items() if words_of(said) & names} == {}


def words_of(text: str) -> set[str]:
    """Return the words of *text*, without what stands around them."""
    return set(re.findall(r"\w+", text))
