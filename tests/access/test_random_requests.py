"""Of very many requests by anybody for anything, none tells a word of somebody else."""

import os
import sys

import pytest
from django.apps import apps
from django.db import transaction
from django.db.models import CharField, TextField
from django.test import override_settings

from portal.people.school.models import SchoolClassQuerySet
from tests.access.planted import World
from tests.access.scene import routes
from tests.access.walk import Walk

pytestmark = [pytest.mark.django_db, pytest.mark.servers, pytest.mark.proof]
SEED = int(os.environ.get("LEAK_SEED", "20261125"))
# For the long walk: LEAK_REQUESTS=100000 python3 manage.py test tests/access -k random_requests -s
# Text that is nobody's word: marks by chance or made from others, kinds, clocks, published goals.
NO_WORDS = {
    *("evidence.Piece.token", "evidence.Piece.refusal", "evidence.Piece.original"),
    *("evidence.Piece.sha256", "evidence.Rendition.name", "evidence.Rendition.media_type"),
    *("evidence.Rendition.sha256", "evidence.Submission.token", "evidence.Upload.token"),
    *("evidence.Upload.file", "evidence.Upload.form_key", "evidence.Upload.metadata"),
    *("evidence.PushPlace.endpoint_hash", "evidence.Upload.refusal"),
    *("evidence.Reminder.refusal",),
    *("assessment.VoiceReply.token", "assessment.VoiceReply.refusal"),
    *("assessment.VoiceReply.name", "assessment.VoiceReply.media_type"),
    *("assessment.VoiceReply.sha256", "assessment.Judgement.unit", "assessment.Period.name"),
    "assessment.MistakeShares.kind",
    *("assessment.Framework.slug", "assessment.Framework.identifier", "assessment.Framework.stem"),
    *("assessment.Framework.notice", "assessment.Framework.judged_by"),
    *("assessment.Framework.edition", "assessment.Framework.source"),
    *("assessment.Framework.licence", "assessment.Goal.code", "assessment.Goal.identifier"),
    *("people.Child.initial", "people.Consent.party", "people.Device.session_key"),
    *("people.Event.kind", "people.Event.request_id", "people.Home.language"),
    *("people.Invitation.code_hash", "people.Invitation.email_key", "people.SignInAttempt.key"),
    *("people.Invitation.language", "people.Invitation.refusal"),
    *("assessment.SummaryMail.refusal", "people.StaffPost.refusal"),
    *("people.AddressNotice.email", "people.AddressNotice.refusal"),
    *("people.RecoveryCode.code_hash", "people.RosterRun.one_class", "people.School.time_zone"),
    *("people.SignInCode.new_email", "people.SignInCode.code_hash"),
    *("people.SignInCode.link_hash", "people.SignInCode.browser_hash"),
    *("people.SignInCode.refusal", "people.User.language"),
    *("privacy.DataExport.token", "privacy.DataExport.file", "privacy.RetentionRule.kind"),
    *("tasks.DayPlan.order", "tasks.DayPlan.focus", "tasks.Sequence.focus", "tasks.Task.kind"),
    *("tasks.TaskPrompt.sentence", "tasks.TaskPrompt.spoken", "tasks.OwnPrompt.fact"),
}
OURS = ("people", "privacy", "tasks", "evidence", "assessment")
STEPS = int(os.environ.get("LEAK_REQUESTS", "1500"))


@pytest.fixture(scope="module")
def world(django_db_setup, django_db_blocker, tmp_path_factory):
    """Make the two schools once: every request is undone after its answer."""
    listed = tmp_path_factory.mktemp("erasures") / "erasures.jsonl"
    with (
        override_settings(ERASURES_FILE=listed),
        django_db_blocker.unblock(),
        transaction.atomic(),
    ):
        yield World.build()
        transaction.set_rollback(True)


def test_no_answer_tells_anything_of_somebody_else(world):
    walk = Walk(world, SEED).go(STEPS)
    sys.stdout.write(
        f"\n{STEPS} requests by seed {SEED}: {len(walk.wrong)} wrong; answers "
        f"{dict(sorted(walk.statuses.items()))}; {len(walk.opened)} pages opened, "
        f"{len(walk.read)} of {len(world.words.readers)} words read by those who may\n"
    )
    assert not walk.wrong, "\n".join(walk.wrong[:20])
    # The walk gets somewhere: else it would find nothing for want of looking.
    assert len(walk.opened) > min(len(routes()) / 4, STEPS / 20)
    # Of two schools and all their homes, most is not there for whoever asks.
    assert walk.statuses[404] < STEPS * 0.7


def test_a_word_is_planted_in_every_field_that_holds_words(world):
    texts = {
        f"{model._meta.label}.{field.name}"
        for app in OURS
        for model in apps.get_app_config(app).get_models()
        for field in model._meta.fields
        if isinstance(field, CharField | TextField) and not field.choices
    }
    assert texts - set(world.words.places.values()) <= NO_WORDS


def test_the_walk_finds_a_class_that_is_open_to_every_member_of_staff(world, monkeypatch):
    monkeypatch.setattr(SchoolClassQuerySet, "taught_by", lambda self, user: self.all())
    assert Walk(world, SEED).go(300).wrong
