"""The log tells which request and what happened; never a name, a word, a file name or a token."""

import io
import json
import logging
import logging.config
from copy import deepcopy

import pytest
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import path, reverse

from portal.operations.logs import JsonLines, PlainLines
from tests.evidence.builders import form, jpeg, make_plan, send_address

CANARIES = ("Canary", "kestrel@example.org", "CANARY-CODE", "canary-token", "canary.jpg")


def break_down(request):
    """Fail as a view might: with what was typed in the error's own words."""
    raise ValueError(f"no such child: {request.POST['note']} Canary-Kestrel kestrel@example.org")


def answer_denied(request, token):
    """Refuse as a view might, with a word of why."""
    from django.core.exceptions import PermissionDenied

    raise PermissionDenied(f"{token} Canary-Kestrel")


urlpatterns = [
    path("break/", break_down, name="break"),
    path("denied/<str:token>/", answer_denied, name="denied"),
]


@pytest.fixture(params=["plain", "json"])
def lines(request):
    """Give what is logged, as the portal's own configuration has it but for its level: all."""
    said = io.StringIO()
    told = deepcopy(settings.LOGGING)
    told["handlers"]["console"] |= {"stream": said, "formatter": request.param}
    told["root"]["level"] = "INFO"
    for logger in told["loggers"].values():
        logger["level"] = "DEBUG"
    logging.config.dictConfig(told)
    yield said
    logging.config.dictConfig(settings.LOGGING)


def quiet_client(**more) -> Client:
    """Return a browser that is shown the page for errors, as people are."""
    return Client(raise_request_exception=False, **more)


def assert_nothing_of_anybody(said: io.StringIO) -> None:
    """Assert that there are lines, and no canary in any."""
    text = said.getvalue()
    assert text
    found = [canary for canary in CANARIES if canary.lower() in text.lower()]
    assert not found, text


def test_an_error_is_logged_by_type_and_place_without_its_words(lines, settings, db):
    settings.ROOT_URLCONF = __name__
    settings.MIDDLEWARE = settings.MIDDLEWARE[:1]
    response = quiet_client().post("/break/", {"note": "Canary-Note"})
    assert response.status_code == 500
    assert_nothing_of_anybody(lines)
    text = lines.getvalue()
    assert "builtins.ValueError" in text
    assert "break_down" in text
    assert response.headers["X-Request-Id"] in text


def test_a_refused_page_is_logged_by_its_name_and_not_by_its_address(lines, settings, db):
    settings.ROOT_URLCONF = __name__
    settings.MIDDLEWARE = settings.MIDDLEWARE[:1]
    assert quiet_client().get("/denied/canary-token/").status_code == 403
    assert_nothing_of_anybody(lines)
    assert "403 GET denied" in lines.getvalue()


def test_a_form_without_its_token_leaves_no_words_in_the_log(lines, village):
    make_plan(village.robins)
    browser = quiet_client(enforce_csrf_checks=True)
    browser.force_login(village.people["family"])
    address = send_address(village.aisha)
    photo = SimpleUploadedFile("canary.jpg", jpeg(), "image/jpeg")
    response = browser.post(address, form(photo, note="Canary-Note of Canary-Kestrel"))
    assert response.status_code == 403
    assert_nothing_of_anybody(lines)


def test_sending_and_signing_in_leave_no_names_words_or_codes_in_the_log(
    lines, village, settings, tmp_path
):
    settings.MEDIA_ROOT = tmp_path / "media"
    make_plan(village.robins)
    browser = quiet_client()
    browser.post(reverse("people:sign-in"), {"email": "kestrel@example.org"})
    browser.post(reverse("people:come-in"), {"code": "CANARY-CODE", "email": "kestrel@example.org"})
    browser.get("/sent/canary-token/")
    browser.force_login(village.people["family"])
    photo = SimpleUploadedFile("canary.jpg", jpeg(), "image/jpeg")
    sent = browser.post(send_address(village.aisha), form(photo, note="Canary-Note"))
    assert sent.status_code == 302
    browser.get("/sent/canary-token/")
    logging.getLogger("evidence").info("looked at piece %d", 12)
    assert_nothing_of_anybody(lines)
    assert "looked at piece 12" in lines.getvalue()


@pytest.mark.parametrize(
    ("message", "arguments", "left"),
    [
        ("Error handling request %s", ("/sent/canary-token/",), "Error handling request …"),
        ("%(who)s waits %(seconds)d s", ({"who": "Canary", "seconds": 4},), "… waits 4 s"),
        ("Canary-Kestrel came in", (), "…"),
        ("%d of %s", ("Canary", 3), "…"),
    ],
)
def test_of_others_messages_numbers_are_kept_and_words_are_not(message, arguments, left):
    record = logging.LogRecord("gunicorn.error", 40, __file__, 1, message, arguments, None)
    assert PlainLines().format(record).endswith(f"gunicorn.error {left}")


def test_a_failed_job_is_named_without_the_words_of_its_error():
    record = logging.LogRecord("celery.app.trace", 40, __file__, 1, "Task %(exc)s", (), None)
    record.data = {
        "name": "evidence.jobs.prepare", "id": "7f", "description": "raised unexpected",
        "exc": "ValueError('Canary')", "args": "('Canary',)",
    }  # fmt: skip
    said = JsonLines().format(record)
    assert json.loads(said)["message"] == "job evidence.jobs.prepare 7f raised unexpected"


def test_json_lines_are_one_object_each_with_time_level_and_request(village, settings):
    said = io.StringIO()
    handler = logging.StreamHandler(said)
    handler.setFormatter(JsonLines())
    logger = logging.getLogger("portal.people")
    logger.addHandler(handler)
    try:
        logger.warning("the job queue is down: %s %s waits", "portal.people.jobs.x", 7)
        try:
            raise KeyError("Canary")
        except KeyError:
            logger.exception("line\nbreak in piece %d", 3)
    finally:
        logger.removeHandler(handler)
    told = [json.loads(line) for line in said.getvalue().splitlines()]
    assert [each["level"] for each in told] == ["warning", "error"]
    assert all(each["request"] == "-" and each["at"].endswith("Z") for each in told)
    assert told[1]["error"][0] == "builtins.KeyError"


def test_lines_of_one_request_carry_its_own_id_and_of_the_next_another(lines, settings, db):
    settings.ROOT_URLCONF = __name__
    settings.MIDDLEWARE = settings.MIDDLEWARE[:1]
    ids = [quiet_client().get("/denied/x/").headers["X-Request-Id"] for _time in range(2)]
    assert len(set(ids)) == 2
    told = [line for line in lines.getvalue().splitlines() if "403 GET denied" in line]
    assert all(each in line for each, line in zip(ids, told, strict=True))
