"""Whoever works here no more, or is disabled, finds nothing by any way of asking for data."""

import pytest
from django.apps import apps
from django.urls import reverse
from django.utils import timezone

from assessment.goals.own_goal_sets import accept, make_draft, read_file
from evidence.models import Piece, Placement
from portal.data_protection.models import LegalHold
from portal.people.accounts.staff import end_post
from portal.people.models import Event, StaffPost, User
from tests.access.scene import own_question_kept
from tests.portal.data_protection.builders import plant
from tests.tasks.builders import drafted_week

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
STAFF = ("lead", "teacher", "assistant", "office")
WAYS = ("visible_to", "taught_by", "run_by", "kept_by", "staffed_by", "led_by")


def ways() -> list[str]:
    """Name every way by which rows are found for a person, as app.Model.way."""
    return [
        f"{model._meta.label}.{way}"
        for model in apps.get_models()
        for way in WAYS
        if hasattr(model._default_manager, way)
    ]


def found(way: str, user: User) -> list:
    """Return what *user* finds by *way*."""
    label, _dot, name = way.rpartition(".")
    return list(getattr(apps.get_model(label)._default_manager, name)(user))


def all_found(people: list[int]) -> dict[str, list[str]]:
    """Return by each way which of *people* find something by it."""
    users = User.objects.in_bulk(people).values()
    return {way: sorted(user.name for user in users if found(way, user)) for way in ways()}


def test_who_works_here_no_more_or_is_disabled_finds_nothing_by_any_way(
    village, settings, tmp_path
):
    settings.DATA_DIR, settings.MEDIA_ROOT = tmp_path, tmp_path / "media"
    plant(village, {})
    LegalHold.place(village.cal, None, village.people["lead"])
    drafted_week(village)
    own_question_kept(village)
    piece = Piece.objects.first()
    Placement.objects.create(piece=piece, source=piece.submission, target=piece.submission)
    accept(make_draft(village.school, read_file(b"code,strand,text\nA1,Number,Counts\n", "Ours")))
    people = [village.people[name].pk for name in STAFF]
    Event.objects.create(school=village.school, role=Event.Role.LEAD, what=Event.What.SIGNED_IN)
    before = all_found(people)
    StaffPost.objects.update(ended_at=timezone.now())
    # The goals that come with the portal are nobody's own.
    after = {way: who for way, who in all_found(people).items() if who}
    assert not after, f"they still find something by {after}"
    assert not [way for way, who in before.items() if not who], "nobody found anything before"
    StaffPost.objects.update(ended_at=None)
    User.objects.update(is_active=False)
    assert not {way: who for way, who in all_found(people).items() if who}


def test_who_loses_one_of_two_posts_is_signed_out_at_once_all_the_same(village, signed_in):
    teacher, account = village.people["teacher"], reverse("people:account")
    StaffPost.objects.create(user=teacher, school=village.school, role=StaffPost.Role.OFFICE)
    client = signed_in("teacher")
    assert client.get(account).status_code == 200
    end_post(teacher.posts.get(role=StaffPost.Role.TEACHER))
    assert client.get(account).status_code == 302
