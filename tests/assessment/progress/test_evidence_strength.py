"""The strength of evidence: what it is weighed from, and that what is kept never lags behind."""

import datetime as dt

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from assessment.insight.strength import Missing
from assessment.models import EvidenceWeighed, MistakesFound, Tag
from assessment.progress.evidence_strength import weighed
from assessment.progress.mistakes import work_of, worked
from evidence.models import Submission
from portal.people.models import Group
from tasks.models import Task
from tests.assessment.builders import goal, send, set_day
from tests.assessment.progress.builders import shown
from tests.village import MONDAY

TODAY = MONDAY + dt.timedelta(days=4)
EVER = dt.datetime(2026, 1, 1, tzinfo=dt.UTC), dt.datetime(2027, 1, 1, tzinfo=dt.UTC)


def strength_of(child, code="ELG-NP-3", today=TODAY):
    return weighed([child], today).get((child.pk, goal(code).pk))


def test_a_tag_that_came_since_counts_at_once(village):
    shown(village, village.aisha, "i")
    assert strength_of(village.aisha).count == 1
    shown(village, village.aisha, "i", start=MONDAY + dt.timedelta(days=1))
    assert strength_of(village.aisha).count == 2


def test_a_tag_that_was_taken_back_counts_no_more(village):
    first, second = shown(village, village.aisha, "ii")
    strength_of(village.aisha)
    second.delete()
    assert strength_of(village.aisha).count == 1
    first.delete()
    assert strength_of(village.aisha) is None


def test_a_tag_put_in_place_of_another_counts_for_what_it_says(village):
    (tag,) = shown(village, village.aisha, "i")
    strength_of(village.aisha)
    Tag.objects.filter(pk=tag.pk).delete()
    Tag.on(tag.submission, tag.goal_id, "not yet").save()
    assert (strength_of(village.aisha).count, strength_of(village.aisha).not_yet) == (1, 1)


def test_what_is_kept_grows_old_with_the_days(village):
    shown(village, village.aisha, "iii", kinds=("halving", "one-more"))
    assert Missing.LATELY not in strength_of(village.aisha).missing
    later = TODAY + dt.timedelta(weeks=7)
    assert Missing.LATELY in strength_of(village.aisha, today=later).missing


def test_a_table_that_was_emptied_is_filled_again(village):
    shown(village, village.aisha, "ii")
    before = strength_of(village.aisha)
    EvidenceWeighed.objects.all().delete()
    assert strength_of(village.aisha) == before


def test_what_another_release_kept_in_another_shape_is_weighed_again(village):
    shown(village, village.aisha, "ii")
    before = strength_of(village.aisha)
    EvidenceWeighed.objects.update(goals={str(goal().pk): ["kept", 2, 0]})
    assert strength_of(village.aisha) == before


def test_what_was_weighed_is_read_and_not_weighed_again(village):
    shown(village, village.aisha, "iiii")
    strength_of(village.aisha)
    with CaptureQueriesContext(connection) as asked:
        weighed([village.aisha], TODAY)
    assert len(asked) == 2


def test_every_child_has_its_own_evidence(village):
    shown(village, village.aisha, "iii")
    shown(village, village.ben, "n")
    found = weighed([village.aisha, village.ben], TODAY)
    key = goal().pk
    assert found[village.aisha.pk, key].unaided_days == 3
    assert (found[village.ben.pk, key].count, found[village.ben.pk, key].days) == (1, 0)


def test_the_kind_is_that_part_of_the_day_which_shows_the_goal(village):
    assert "one-more" in goal("ELG-NUM-1").kinds
    shown(village, village.aisha, "i", "ELG-NUM-1", kinds=("halving", "one-more"))
    assert strength_of(village.aisha, "ELG-NUM-1").kinds == ("one-more",)


def test_a_child_of_a_group_worked_on_the_groups_kind(village):
    plan = set_day(village.robins)
    Task.objects.create(
        day_plan=plan,
        part="main_task",
        group=village.bens_group,
        kind="doubling",
        within=10,
        count=3,
        seed=1,
    )
    shown(village, village.ben, "i")
    shown(village, village.aisha, "i")
    assert strength_of(village.ben).kinds == ("doubling",)
    assert strength_of(village.aisha).kinds == ("halving",)
    assert Group.objects.get().children.get() == village.ben


def test_work_sent_ahead_of_its_day_counts_at_once(village):
    shown(village, village.aisha, "i", start=TODAY + dt.timedelta(days=3))
    assert strength_of(village.aisha).unaided_days == 1


def test_help_together_is_no_evidence_of_doing_it_alone(village):
    shown(village, village.aisha, "i", help="together")
    assert Missing.UNAIDED in strength_of(village.aisha).missing


def mistakes_of(child):
    return [sorted(row.found) for row in worked(work_of([child.pk], *EVER))]


def test_mistakes_are_found_again_after_the_family_changed_its_answers(village):
    work = send(village.aisha, village.first_home, set_day(village.robins), answers="doubled")
    assert mistakes_of(village.aisha) == [["doubled"]]
    for answer in work.answers.all():
        answer.text = str(answer.prompt.prompt.answer)
        answer.save()
    assert mistakes_of(village.aisha) == [[]]
    assert not MistakesFound.objects.exists()


@pytest.mark.parametrize("again", [dt.timedelta(hours=1), dt.timedelta(0)])
def test_mistakes_of_what_was_looked_at_are_kept_until_the_look_is_taken_back(village, again):
    work = send(village.aisha, village.first_home, set_day(village.robins), answers="doubled")
    Submission.objects.filter(pk=work.pk).update(looked_at=work.sent_at)
    mistakes_of(village.aisha)
    MistakesFound.objects.update(tasks=[["halving", ["doubled"], []]])
    Submission.objects.filter(pk=work.pk).update(looked_at=work.sent_at + again)
    assert mistakes_of(village.aisha) == ([["doubled"]] if again else [[]])
