"""Operators see counts; nobody else sees that there is anything to see."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone
from prometheus_client.openmetrics.parser import text_string_to_metric_families

from portal.operations import metrics
from portal.operations.models import Mark
from tests.evidence.builders import make_arrived_piece, make_submission

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
TOKEN = "a-token-for-the-tests-alone"


@pytest.fixture(autouse=True)
def place(settings, tmp_path):
    """Give the tests a store of their own, and the token."""
    settings.MEDIA_ROOT = tmp_path / "media"
    settings.METRICS_TOKEN = TOKEN


def ask(client, token=TOKEN):
    """Ask for the figures as a program does."""
    return client.get(reverse("metrics"), headers={"Authorization": f"Bearer {token}"})


def values(client) -> dict[tuple[str, ...], float]:
    """Return the figures by name and labels."""
    families = text_string_to_metric_families(ask(client).content.decode())
    return {
        (sample.name.removeprefix("kitchen_counter_"), *sample.labels.values()): sample.value
        for each in families
        for sample in each.samples
    }


@pytest.mark.parametrize("token", ["", "another", TOKEN[:-1], f"{TOKEN} "])
def test_without_the_right_token_there_is_nothing(client, token):
    assert ask(client, token).status_code == 404


@pytest.mark.parametrize("role", ["lead", "teacher", "family"])
def test_being_signed_in_is_no_token(signed_in, role):
    assert signed_in(role).get(reverse("metrics")).status_code == 404


def test_where_no_token_is_set_even_an_empty_one_finds_nothing(client, settings):
    settings.METRICS_TOKEN = ""
    assert ask(client, "").status_code == 404


def test_pieces_are_counted_by_state_and_the_oldest_unfinished_has_an_age(client, village):
    submission = make_submission(village)
    for minutes in (3, 7):
        long_ago = timezone.now() - dt.timedelta(minutes=minutes)
        make_arrived_piece(submission, arrived_at=long_ago)
    make_arrived_piece(submission, state="refused", refusal="unreadable")
    told = values(client)
    assert (told["pieces", "arrived"], told["pieces", "ready"]) == (2, 0)
    assert told["pieces", "refused"] == 1
    assert 420 <= told["oldest_unfinished_piece_seconds",] < 430


def test_the_ages_of_beat_and_backup_are_told_once_there_are_any(client):
    assert ("last_backup_seconds",) not in values(client)
    Mark.make(Mark.Name.BACKUP, timezone.now() - dt.timedelta(days=2))
    Mark.make(Mark.Name.TICK)
    told = values(client)
    assert 172_800 <= told["last_backup_seconds",] < 172_810
    assert told["last_tick_seconds",] < 10


def test_free_space_and_waiting_mails_are_told(client):
    told = values(client)
    assert 0 < told["disk_free_bytes",] < told["disk_size_bytes",]
    assert told["mails_waiting",] == 0


def test_figures_are_told_while_the_broker_is_away(client, monkeypatch):
    def away():
        raise metrics.BrokerAwayError

    monkeypatch.setattr(metrics, "queue_lengths", away)
    told = values(client)
    assert told["broker_answers",] == 0
    assert not [name for name in told if name[0] == "jobs_waiting"]


def test_the_figures_name_nobody(client, village):
    make_arrived_piece(make_submission(village, note="Canary-Note"))
    text = ask(client).content.decode()
    people = [*village.people.values()]
    secrets = [*(user.email for user in people), "Aisha", "Harbour", "Robins", "Canary"]
    assert not [word for word in secrets if word in text]


def test_the_figures_take_the_same_queries_however_much_there_is(
    client, village, django_assert_max_num_queries
):
    with django_assert_max_num_queries(12) as few:
        ask(client)
    submission = make_submission(village)
    for _piece in range(12):
        make_arrived_piece(submission)
    with django_assert_max_num_queries(12) as many:
        ask(client)
    assert len(many) == len(few)
