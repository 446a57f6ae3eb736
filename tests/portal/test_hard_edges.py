"""What every answer carries, what no page asks for, and what the database has no room for."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from django.apps import apps
from django.db import connection, transaction
from django.http import HttpResponse
from django.test import Client
from django.urls import path

from tests.access.policy import policy
from tests.access.scene import ROLES, Scene, routes

ROOT = Path(__file__).resolve().parents[2]
# The protocol of uploads asks for a header that no other site can send along; the link in a mail
# stops mails and nothing else.
WITHOUT_TOKEN = {
    *("evidence:uploads", "evidence:upload"),
    *("assessment:stop-mail", "evidence:reminders-stop"),
}


def answers(scene: Scene, role: str):
    """Yield what *role* is answered at every address that shows a page to somebody."""
    client = Client(raise_request_exception=False)
    if role != "visitor":
        client.force_login(scene.village.people[role])
    for name in routes():
        codes = policy().get((name, "GET"), [0] * len(ROLES))
        if codes[ROLES.index(role)] == 200:
            with transaction.atomic():
                yield name, client.get(scene.address(name))
                transaction.set_rollback(True)


@pytest.fixture(scope="module")
def scene(django_db_setup, django_db_blocker):
    """Set the scene once."""
    with django_db_blocker.unblock(), transaction.atomic():
        yield Scene.build()
        transaction.set_rollback(True)


@pytest.mark.django_db
@pytest.mark.parametrize("role", ["visitor", "family", "teacher", "lead"])
def test_every_page_forbids_what_it_does_not_need_and_is_kept_nowhere(scene, role):
    seen = 0
    for name, answer in answers(scene, role):
        seen += 1
        told = answer.headers
        assert "no-store" in told["Cache-Control"] or name == "evidence:service-worker", name
        assert told["X-Content-Type-Options"] == "nosniff", name
        assert told["X-Frame-Options"] == "DENY", name
        assert told["Referrer-Policy"] == "same-origin", name
        assert told["Cross-Origin-Opener-Policy"] == "same-origin", name
        assert told["Cross-Origin-Resource-Policy"] == "same-origin", name
        assert "geolocation=()" in told["Permissions-Policy"], name
        rules = told["Content-Security-Policy"]
        if rules != "sandbox":
            for rule in ("default-src 'none'", "object-src 'none'", "base-uri 'none'",
                         "frame-ancestors 'none'", "form-action 'self'",
                         "script-src 'self'"):  # fmt: skip
                assert rule in rules, (name, rule)
            assert "unsafe" not in rules
    assert seen > 3


@pytest.mark.django_db
@pytest.mark.parametrize("role", ["family", "teacher", "lead"])
def test_no_page_names_another_host(scene, role):
    for name, answer in answers(scene, role):
        if answer.get("Content-Type", "").startswith("text/html"):
            page = answer.content.decode()
            linked = re.findall(r'(?:src|href|action|poster)="((?:https?:)?//[^"]+)"', page)
            assert not linked, (name, linked)


@pytest.mark.django_db
def test_whatever_changes_something_needs_the_page_s_own_token(scene):
    client = Client(enforce_csrf_checks=True, raise_request_exception=False)
    client.force_login(scene.village.people["family"])
    refused, family = set(), ROLES.index("family")
    for (name, method), codes in policy().items():
        if method == "POST" and codes[family] not in (404, 405):
            with transaction.atomic():
                status = client.post(scene.address(name)).status_code
                transaction.set_rollback(True)
            if status == 403:
                refused.add(name)
            else:
                assert name in WITHOUT_TOKEN, name
    assert len(refused) > 10


# What only notes that somebody is here or read a reply, or keeps what was reckoned anyway.
QUIET = re.compile(
    r'(INTO|UPDATE|FROM) "(people_event|people_device|django_session|assessment_evidenceweighed|'
    r'assessment_mistakesfound|people_rosterrun)"|UPDATE "evidence_submission" SET "opened_at"'
)


@pytest.mark.django_db
@pytest.mark.parametrize("role", ["family", "teacher", "lead"])
def test_looking_at_a_page_changes_no_row(scene, role):
    written = []

    def note(execute, sql, params, many, context):
        if sql.startswith(("INSERT", "UPDATE", "DELETE")) and not QUIET.search(sql):
            written.append(sql[:80])
        return execute(sql, params, many, context)

    pages = answers(scene, role)
    with connection.execute_wrapper(note):
        for name, _answer in pages:
            # Signing in for the test is a change of its own.
            assert [sql for sql in written if "people_user" not in sql] == [], name


def test_with_https_cookies_and_addresses_are_held_to_it():
    """__Host- cookies, secure and not to be read by scripts; a year of HTTPS for all below."""
    code = (
        "import json; from django.conf import settings as s; names = "
        "['SESSION_COOKIE_NAME','CSRF_COOKIE_NAME','SESSION_COOKIE_SECURE','CSRF_COOKIE_SECURE',"
        "'SESSION_COOKIE_HTTPONLY','SESSION_COOKIE_SAMESITE','SECURE_HSTS_SECONDS',"
        "'SECURE_HSTS_INCLUDE_SUBDOMAINS','SECURE_SSL_REDIRECT','DEBUG'];"
        "print(json.dumps({n: getattr(s, n) for n in names}))"
    )
    kept = {name: os.environ[name] for name in ("PATH", "HOME") if name in os.environ}
    told = {"SITE_URL": "https://school.example", "DJANGO_SETTINGS_MODULE": "portal.settings"}
    data = os.environ.get("DATA_DIR", "")
    ran = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, env={**kept, **told, "DATA_DIR": data},
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert json.loads(ran.stdout) == {
        "SESSION_COOKIE_NAME": "__Host-session",
        "CSRF_COOKIE_NAME": "__Host-csrf",
        "SESSION_COOKIE_SECURE": True,
        "CSRF_COOKIE_SECURE": True,
        "SESSION_COOKIE_HTTPONLY": True,
        "SESSION_COOKIE_SAMESITE": "Lax",
        "SECURE_HSTS_SECONDS": 31_536_000,
        "SECURE_HSTS_INCLUDE_SUBDOMAINS": True,
        "SECURE_SSL_REDIRECT": True,
        "DEBUG": False,
    }


def break_down(request) -> HttpResponse:
    """Fail as a view may fail."""
    raise ValueError("Aisha's secret")


urlpatterns = [path("broken/", break_down)]


def test_a_page_that_breaks_says_nothing_of_why(settings, caplog):
    settings.ROOT_URLCONF = __name__
    settings.MIDDLEWARE = [each for each in settings.MIDDLEWARE if "csp" in each]
    answer = Client(raise_request_exception=False).get("/broken/")
    assert answer.status_code == 500
    assert "Aisha" not in answer.content.decode()
    assert "Traceback" not in answer.content.decode()


@pytest.mark.django_db
def test_nothing_behind_the_pages_is_served(client):
    for address in ("/.git/config", "/static/", "/media/", "/var/", "/admin/", "/manage.py",
                    "/static/../portal/settings.py", "/metrics"):  # fmt: skip
        assert client.get(address).status_code == 404, address
    assert client.generic("TRACE", "/healthz").status_code == 405


def test_there_is_no_field_for_what_is_not_needed_of_a_child():
    unwanted = re.compile(
        r"birth|dob|gender|sex|ethnic|religion|address(?!_key)|postcode|phone(?!$)|upn|diagnos|"
        r"condition|medical|send_|photo_of|surname|family_name|latitude|longitude|rank|score|"
        r"streak|points|badge"
    )
    found = {
        f"{model._meta.label}.{field.name}"
        for model in apps.get_models()
        if model._meta.app_label in ("people", "privacy", "tasks", "evidence", "assessment")
        for field in model._meta.get_fields()
        if field.concrete and unwanted.search(field.name)
    }
    assert found <= {"people.School.safeguarding_lead_phone"}
    child = {field.name for field in apps.get_model("people", "Child")._meta.fields}
    assert child == {"id", "school", "school_class", "first_name", "initial", "office_key"}


@pytest.mark.django_db
def test_no_page_of_a_family_ranks_counts_points_or_hurries(scene):
    hurry = re.compile(
        r"\b(streak|badge|points?|rank(ed|ing)?|leader ?board|top of the class|you missed|"
        r"don'?t miss|hurry|well done you|behind (the )?others|best in)\b",
        re.IGNORECASE,
    )
    for name, answer in answers(scene, "family"):
        if answer.get("Content-Type", "").startswith("text/html"):
            told = re.sub(r"<[^>]+>", " ", answer.content.decode())
            assert not hurry.search(told), (name, hurry.search(told))


@pytest.mark.django_db
def test_plain_addresses_lead_to_https_which_is_asked_for_a_year(settings):
    settings.SECURE_SSL_REDIRECT, settings.SECURE_HSTS_SECONDS = True, 31_536_000
    settings.ALLOWED_HOSTS = ["school.example"]
    client = Client(headers={"host": "school.example"})
    plain = client.get("/sign-in/")
    assert (plain.status_code, plain["Location"]) == (301, "https://school.example/sign-in/")
    secure = client.get("/sign-in/", secure=True)
    assert secure["Strict-Transport-Security"] == "max-age=31536000; includeSubDomains"
