"""Running a roster file: each row's fate, next week's file, leavers, homes, and taking it back."""

import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from portal.people.models import (
    Child,
    Home,
    Invitation,
    RosterRun,
    SchoolClass,
)
from portal.people.roster_import.applying import ChangedSinceError, apply_run
from portal.people.roster_import.running import plan_of
from portal.people.roster_import.words import fates
from tests.portal.people.roster_import.roster_files import (
    HARBOUR,
    ROWS_OF_CONTACTS,
    contacts,
    csv_bytes,
    harbour,
    row,
    small,
)

pytestmark = [pytest.mark.django_db, pytest.mark.servers]


def told(draft: RosterRun) -> list[tuple[str, str, str]]:
    """Return rows, child and what happens, as the office reads them."""
    return [(fate.rows, fate.name, fate.words) for fate in fates(plan_of(draft))]


def roster() -> dict[str, str]:
    """Return each child's class, by name."""
    children = Child.objects.select_related("school_class")
    return {str(child): str(child.school_class or "–") for child in children}


def test_every_row_of_a_first_file_makes_a_new_child(bring_in):
    draft = bring_in(harbour())
    assert told(draft) == [
        ("4", "Aisha K", "new child"),
        ("5", "Ben T", "new child"),
        ("6", "Cal K", "new child"),
        ("7", "Dora F", "new child"),
    ]
    assert plan_of(draft).new_classes == ("Robins", "Wrens")
    assert not Child.objects.exists()


def test_a_run_puts_children_into_classes_and_siblings_into_one_home(run):
    run(harbour())
    assert roster() == {"Aisha K": "Robins", "Ben T": "Robins", "Cal K": "Wrens", "Dora F": "Wrens"}
    aisha, cal = Child.objects.get(first_name="Aisha"), Child.objects.get(first_name="Cal")
    assert set(aisha.homes.all()) & set(cal.homes.all())
    assert aisha.homes.count() == 2


def test_two_adults_at_one_address_share_a_home_and_at_two_do_not(run):
    run(harbour())
    of = {each.email: each.home_id for each in Invitation.objects.exclude(email="")}
    assert of["tern@example.org"] == of["tern.too@example.org"]
    assert of["mum.kestrel@example.org"] != of["dad.kestrel@example.org"]


def test_nothing_more_than_is_needed_is_kept(run):
    done = run(harbour())
    kept = str(list(Child.objects.values())) + str(list(Home.objects.values()))
    kept += str(RosterRun.objects.values().get(pk=done.pk))
    words = set(re.findall(r"\w+", kept))  # whole ones: a key made by chance may hold any digits
    assert words.isdisjoint({"1001", "2021", "Kestrel", "Mill", "HB1"})
    assert "07700 " not in kept
    assert done.content is None


def test_a_second_run_of_the_same_file_changes_nothing(run, bring_in):
    run(harbour())
    before = (list(Child.objects.values()), list(Home.objects.values()), Invitation.objects.count())
    again = run(harbour(), whole_school=True)
    after = (list(Child.objects.values()), list(Home.objects.values()), Invitation.objects.count())
    assert before == after
    assert again.figures == {"same": 4}
    assert again.changes == []


def test_next_weeks_file_moves_adds_corrects_and_lets_leave(run, bring_in):
    run(harbour())
    rows = [
        row(0, Reg_group="Wrens"),
        row(2, Forename="Callum"),
        row(1),
        ("1005", "Eve", "Wren", "2/2/22", "Wrens", "3 Pier Road", "HB2 1AA", *[""] * 6),
    ]
    draft = bring_in(harbour(rows), whole_school=True)
    assert told(draft) == [
        ("4", "Aisha K", "moves from Robins to Wrens"),
        ("5", "Callum K", "same as before; until now called Cal K"),
        ("6", "Ben T", "same as before"),
        ("7", "Eve W", "new child"),
        ("", "Dora F", "leaves: not in the file. What was sent is kept; the child is in no class."),
    ]


def test_a_leaver_keeps_history_and_has_no_class(run):
    run(harbour())
    dora = Child.objects.get(first_name="Dora")
    run(harbour(HARBOUR[:3]), whole_school=True)
    dora.refresh_from_db()
    assert dora.school_class is None
    assert dora.homes.exists()


def test_without_the_mark_whole_school_nobody_leaves(run):
    run(harbour())
    run(harbour(HARBOUR[:1]))
    assert "–" not in roster().values()


def test_a_leaver_who_comes_back_is_the_same_child(run, bring_in):
    run(harbour())
    run(harbour(HARBOUR[:3]), whole_school=True)
    assert ("7", "Dora F", "comes back, into Wrens") in told(bring_in(harbour()))


def test_a_class_left_out_is_remembered_and_its_children_are_not_brought_in(run, bring_in):
    draft = bring_in(harbour(), left_out=["wrens"])
    assert [words for _rows, _name, words in told(draft)] == [
        *("new child", "new child"),
        *("left out, with the class", "left out, with the class"),
    ]
    run(harbour(), left_out=["wrens"])
    assert set(roster()) == {"Aisha K", "Ben T"}


def test_a_child_who_comes_twice_is_one_child_with_two_adults(run):
    run(contacts())
    assert set(roster()) == {"Zoë M", "Finn O"}
    zoe, finn = Child.objects.get(first_name="Zoë"), Child.objects.get(first_name="Finn")
    assert (zoe.homes.count(), finn.homes.count()) == (1, 2)
    assert zoe.invitations.count() == finn.invitations.count() == 2


def test_without_dates_and_numbers_a_child_who_comes_twice_is_asked_about(bring_in):
    rows = [row[:1] + row[2:] for row in ROWS_OF_CONTACTS]
    draft = bring_in(contacts(rows))
    problems = [(fate.rows, fate.words) for fate in fates(plan_of(draft)) if fate.kind == "problem"]
    assert [rows for rows, _words in problems] == ["4", "5"]
    assert "Are they one child?" in problems[0][1]


def test_a_child_in_two_classes_must_be_mended(bring_in):
    rows = [*ROWS_OF_CONTACTS[:2], (*ROWS_OF_CONTACTS[2][:2], "Wrens", *ROWS_OF_CONTACTS[2][3:])]
    draft = bring_in(contacts(rows))
    assert {fate.rows for fate in fates(plan_of(draft)) if fate.kind == "problem"} == {"2", "3"}


def test_one_number_with_two_names_must_be_mended(bring_in):
    draft = bring_in(harbour([row(0), row(1, Admission_number="1001")]))
    assert {problem.row for problem in plan_of(draft).problems} == {4, 5}


def test_without_addresses_each_adult_has_a_home_and_a_siblings_adult_one(run):
    run(small())
    mina, tobi, tam = (Child.objects.get(first_name=name) for name in ("Mina", "Tobi", "Tam"))
    assert mina.homes.count() == 2
    assert list(tobi.homes.all()) == list(tam.homes.all())


def test_a_file_without_numbers_is_run_again_without_doubles(run):
    run(small())
    assert run(small(), whole_school=True).figures == {"same": 3}


def test_with_something_wrong_nothing_is_done_at_all(bring_in, office):
    draft = bring_in(harbour([row(0), row(1, Parent_1_email="nowhere")]))
    with pytest.raises(ChangedSinceError):
        apply_run(draft, plan_of(draft).digest, by_mail=True, made_by=office)
    assert not Child.objects.exists()
    assert not SchoolClass.objects.filter(name="Robins").exists()


def test_a_plan_that_was_not_shown_is_not_run(bring_in, run, office):
    draft = bring_in(harbour())
    digest = plan_of(draft).digest
    Child.objects.create(school=draft.school, first_name="Aisha", initial="K")
    SchoolClass.objects.create(year=draft.year, name="Robins")
    with pytest.raises(ChangedSinceError):
        apply_run(draft, digest, by_mail=True, made_by=office)


def test_a_failure_in_the_middle_leaves_everything_as_it_was(bring_in, office, monkeypatch):
    draft = bring_in(harbour())

    def fail(*_args, **_kwargs):
        raise RuntimeError

    monkeypatch.setattr(Invitation, "ask_by_mail", fail)
    with pytest.raises(RuntimeError):
        apply_run(draft, plan_of(draft).digest, by_mail=True, made_by=office)
    draft.refresh_from_db()
    assert not Child.objects.exists()
    assert draft.state == RosterRun.State.DRAFT


NAMESAKES = (
    ("Child", "Class", "Address", "Email"),
    ("Ava Swift", "Robins", "1 Ash Way", "one@example.org"),
    ("Ava Swan", "Robins", "2 Ash Way", "two@example.org"),
)


def test_namesakes_of_one_class_are_told_apart_by_their_homes(run):
    run(csv_bytes(NAMESAKES))
    assert run(csv_bytes(NAMESAKES), whole_school=True).figures == {"same": 2}
    assert Child.objects.filter(first_name="Ava", initial="S").count() == 2


def test_a_namesake_of_whom_nothing_tells_who_they_are_is_asked_about(run, bring_in, office):
    run(csv_bytes(NAMESAKES))
    unclear = [NAMESAKES[0], ("Ava Swift", "Robins", "9 New Road", "nine@example.org")]
    draft = bring_in(csv_bytes(unclear))
    plan = plan_of(draft)
    assert plan.is_blocked
    fate = fates(plan)[0]
    assert [words for _value, words in fate.choices] == [
        "the child in Robins, for whom nobody has come in",
        "the child in Robins, for whom nobody has come in",
        "another child, new here",
    ]
    first = fate.choices[0][0]
    RosterRun.objects.filter(pk=draft.pk).update(answers={fate.question: first})
    draft.refresh_from_db()
    apply_run(draft, plan_of(draft).digest, by_mail=False, made_by=office)
    assert Child.objects.count() == 2


def test_an_answer_may_say_that_a_namesake_is_new(run, bring_in):
    run(csv_bytes(NAMESAKES))
    unclear = [NAMESAKES[0], ("Ava Swift", "Robins", "9 New Road", "nine@example.org")]
    draft = bring_in(csv_bytes(unclear), answers={"2": "new"})
    assert told(draft) == [("2", "Ava S", "new child")]


def test_a_household_that_moves_house_stays_one_home(run):
    run(harbour())
    homes = Home.objects.count()
    moved = [row(0, Address="5 Far End"), row(1), row(2, Address="5 Far End"), row(3)]
    run(harbour(moved), whole_school=True)
    assert Home.objects.count() == homes


def test_a_file_of_one_school_touches_no_other(run, village):
    before = list(village.dot.__class__.objects.exclude(school__name="Gull Point").values())
    run(harbour(), whole_school=True)
    assert before == list(Child.objects.exclude(school__name="Gull Point").values())


def test_a_draft_is_forgotten_after_an_hour(bring_in):
    draft = bring_in(harbour())
    RosterRun.objects.filter(pk=draft.pk).update(
        made_at=timezone.now() - timezone.timedelta(minutes=61)
    )
    RosterRun.objects.forget()
    draft.refresh_from_db()
    assert (draft.content, draft.state) == (None, RosterRun.State.DROPPED)


def test_planning_takes_as_many_queries_for_many_children_as_for_few(bring_in, run):
    def queries(content):
        draft = bring_in(content)
        with CaptureQueriesContext(connection) as seen:
            plan_of(draft)
        return len(seen)

    many = [
        (f"{n}", f"Child{n}", "Tern", "1/1/22", "Robins", f"{n} Way", "", "A", f"a{n}@example.org")
        + ("",) * 4
        for n in range(60)
    ]
    few = queries(harbour())
    run(harbour(many))
    assert queries(harbour(many)) == few
