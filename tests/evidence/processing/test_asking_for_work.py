"""What is asked of the database every few seconds is cheap however many pieces there are."""

import statistics
import time

import pytest
from django.db import connection
from django.db.models import QuerySet

from evidence.models import Piece
from portal.jobs.slots import Weight
from tests.evidence.builders import make_submission

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
MANY = 150_000
AT_MOST = 0.010  # seconds, the middle of many


@pytest.fixture
def many_pieces(village):
    """Have very many pieces that are ready, as wished for, and a few that wait.

    SQLite never counts its tables by itself; PostgreSQL does within a minute.
    """
    analysed = connection.vendor == "postgresql"
    submission = make_submission(village)
    ready = (
        Piece(
            submission=submission,
            kind=Piece.Kind.CLIP if number % 5 == 0 else Piece.Kind.PHOTO,
            state=Piece.State.READY,
            sha256="0" * 64,
            size=1,
        )
        for number in range(MANY)
    )
    Piece.objects.bulk_create(ready, batch_size=2_000)
    some = Piece.objects.filter(kind=Piece.Kind.PHOTO).values_list("pk", flat=True)[:3]
    Piece.objects.filter(pk__in=list(some)).update(turn=90)
    if analysed:
        with connection.cursor() as cursor:
            cursor.execute("ANALYZE")


@pytest.mark.parametrize("asked", ["to_turn", "unfinished"])
def test_work_that_waits_is_found_by_its_own_index_among_very_many_pieces(many_pieces, asked):
    index = {"to_turn": "piece_to_turn", "unfinished": "piece_to_do"}[asked]
    for weight in (Weight.PHOTOS, Weight.CLIPS):
        rows: QuerySet = getattr(Piece.objects, asked)().weighing(weight)
        plan = rows.values("pk")[:1].explain()
        assert index in plan, plan
        taken = [seconds(rows) for _time in range(9)]
        assert statistics.median(taken) < AT_MOST


def seconds(rows: QuerySet) -> float:
    """Return how long the sweep, or a worker, asks for the next of *rows*."""
    start = time.perf_counter()
    rows.next_key()
    return time.perf_counter() - start
