"""Judgements: the teacher's own, never rewritten, locked, undone, and open to no one else."""

import pytest
from django.db import IntegrityError, transaction
from freezegun import freeze_time

from assessment.goals.goal_sets import framework_of
from assessment.judgements.judgements import (
    About,
    JudgedMeanwhileError,
    LockedError,
    judge,
    lock,
    periods_of,
    standing_in,
    undo,
    unlock,
)
from assessment.models import CannotRewriteError, ClassFramework, Framework, Judgement
from tests.assessment.builders import goal
from tests.assessment.progress.builders import shown


@pytest.fixture
def about(village):
    """Give what is judged: Aisha, at the end of the year, on number."""
    goal()
    (period,) = periods_of(village.robins)
    return About(village.aisha, period, framework_of(village.robins), "Number")


def address(about, action=""):
    return f"/children/{about.child.pk}/judgements/{about.period.pk}/{action}"


def say(client, about, level, version=0, unit="Number", **more):
    data = {"unit": unit, "version": version, "level": level, **more}
    return client.post(address(about), data)


def standing(about):
    held = standing_in([about.child], about.period, about.framework)
    row = held.get((about.child.pk, about.unit))
    return row and row.level


def test_a_judgement_needs_no_evidence_at_all(village, signed_in, about):
    assert say(signed_in("teacher"), about, "expected").status_code == 302
    assert standing(about) == "expected"


def test_the_evidence_stands_beside_and_nothing_is_proposed(village, signed_in, about):
    with freeze_time("2026-11-27 12:00"):
        shown(village, village.aisha, "iiw", code="ELG-NUM-2", kinds=("halving",))
        html = signed_in("teacher").get(address(about)).content.decode()
    assert "3 tags, from 23 Nov 2026 to 25 Nov 2026" in html
    assert "Independently twice, in a new situation once; last on 25 Nov" in html
    assert html.count('value="" checked') == 2
    assert "%" not in html.split("<main")[1]


def test_each_change_is_kept_with_who_and_when(village, signed_in, about):
    say(signed_in("teacher"), about, "emerging", note="Counts to eight.")
    say(signed_in("lead"), about, "expected", version=1)
    versions = about.versions()
    assert [row.level for row in versions] == ["expected", "emerging"]
    assert [row.by.name for row in versions] == ["Lead", "Teacher"]
    html = signed_in("teacher").get(address(about)).content.decode()
    assert "Counts to eight." in html


def test_nothing_is_rewritten_or_deleted(village, about):
    row = judge(about, village.people["teacher"], "expected", "", 0)
    row.level = "emerging"
    for action in (row.save, row.delete, Judgement.objects.all().delete):
        with pytest.raises(CannotRewriteError):
            action()
    with pytest.raises(CannotRewriteError):
        Judgement.objects.update(level="emerging")


def test_the_database_itself_refuses_a_second_of_one_version_and_a_lock_on_nothing(village, about):
    row = judge(about, village.people["teacher"], "expected", "", 0)
    for wrong in ({"version": 1}, {"version": 2, "level": "", "locked": True}, {"version": 0}):
        values = {"version": 2, "level": "expected", **wrong}
        fields = {name: getattr(row, name) for name in ("child", "period", "framework", "unit")}
        with pytest.raises(IntegrityError), transaction.atomic():
            Judgement(**fields, **values).save()


def test_of_two_people_the_second_is_told_and_nothing_is_lost(village, signed_in, about):
    say(signed_in("teacher"), about, "expected")
    answer = say(signed_in("lead"), about, "emerging")
    assert standing(about) == "expected"
    page = signed_in("lead")
    page.cookies = answer.client.cookies
    assert "Somebody has decided since" in page.get(address(about)).content.decode()
    with pytest.raises(JudgedMeanwhileError):
        judge(about, village.people["lead"], "emerging", "", 0)


def test_a_decision_can_be_taken_back_and_that_undone(village, signed_in, about):
    client = signed_in("teacher")
    say(client, about, "expected")
    say(client, about, "", version=1)
    assert standing(about) is None
    client.post(address(about, "undo/"), {"unit": "Number", "version": 2})
    assert standing(about) == "expected"


def test_undoing_the_first_decision_leaves_none(village, about):
    teacher = village.people["teacher"]
    judge(about, teacher, "expected", "", 0)
    undo(about, teacher, 1)
    assert standing(about) is None


def test_a_locked_decision_stays_until_a_lead_unlocks_it(village, signed_in, about):
    teacher, lead = village.people["teacher"], village.people["lead"]
    judge(about, teacher, "expected", "", 0)
    lock(about, teacher, 1)
    with pytest.raises(LockedError):
        judge(about, teacher, "emerging", "", 2)
    with pytest.raises(LockedError):
        undo(about, teacher, 2)
    data = {"unit": "Number", "version": 2}
    assert signed_in("teacher").post(address(about, "unlock/"), data).status_code == 404
    assert signed_in("lead").post(address(about, "unlock/"), data).status_code == 302
    judge(about, lead, "emerging", "", 3)
    assert standing(about) == "emerging"


def test_nothing_can_be_locked_before_it_is_decided(village, about):
    with pytest.raises(JudgedMeanwhileError):
        lock(about, village.people["teacher"], 0)
    with pytest.raises(JudgedMeanwhileError):
        unlock(about, village.people["lead"], 0)


@pytest.mark.parametrize("role", ["assistant", "office", "family", "other teacher", "foreign lead"])
def test_neither_assistant_nor_office_nor_anybody_else_judges(village, signed_in, about, role):
    client = signed_in(role)
    assert client.get(address(about)).status_code == 404
    assert say(client, about, "expected").status_code == 404
    assert client.get(f"/classes/{village.robins.pk}/judgements/").status_code == 404
    assert not Judgement.objects.exists()
    assert not Judgement.objects.visible_to(village.people[role]).exists()


@pytest.mark.parametrize(
    ("unit", "level"), [("Number", "exceeding"), ("Literacy", "expected"), ("", "expected")]
)
def test_only_the_frameworks_own_words_and_units_are_taken(village, signed_in, about, unit, level):
    assert say(signed_in("teacher"), about, level, unit=unit).status_code == 422
    assert not Judgement.objects.exists()


def test_every_child_may_be_not_assessed(village, signed_in, about):
    say(signed_in("teacher"), about, "not assessed")
    assert standing(about) == "not assessed"


def test_goals_without_words_for_a_judgement_say_so(village, signed_in, about):
    plain = Framework.objects.create(slug="plain", title="Plain goals", levels=[])
    plain.goals.create(code="P1", strand="P", text="Counts.", position=0)
    ClassFramework.objects.create(school_class=village.robins, framework=plain)
    html = signed_in("teacher").get(f"/classes/{village.robins.pk}/judgements/").content.decode()
    assert "come without words for a judgement" in html


def test_a_framework_judged_by_goal_is_judged_goal_by_goal(village, signed_in, about):
    each = Framework.objects.create(slug="each", title="Each", levels=["yes"], judged_by="goal")
    for place in range(3):
        each.goals.create(code=f"E{place}", strand="E", text=f"Goal {place}", position=place)
    ClassFramework.objects.create(school_class=village.robins, framework=each)
    client = signed_in("teacher")
    assert client.get(address(about)).content.decode().count('name="level" value="yes"') == 3
    assert say(client, about, "yes", unit="E1").status_code == 302
    assert Judgement.objects.get().unit == "E1"


def test_a_period_of_another_year_is_not_there(village, signed_in, about):
    (theirs,) = periods_of(village.dot.school_class)
    answer = signed_in("teacher").get(f"/children/{village.aisha.pk}/judgements/{theirs.pk}/")
    assert answer.status_code == 404
