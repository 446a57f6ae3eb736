"""Bringing a roster file in as the office does it, page by page."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from portal.people.models import Child, Event, RosterRun, SchoolClass
from tests.portal.people.roster_import.roster_files import (
    HARBOUR,
    HARBOUR_HEADINGS,
    csv_bytes,
    harbour,
    small,
)

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
VILLAGE = (("Child", "Class", "E-mail"), ("Aisha K", "Robins", ""), ("Ben T", "Robins", ""))


@pytest.fixture
def office(signed_in):
    return signed_in("office")


def bring(office, content: bytes):
    file = SimpleUploadedFile("list.csv", content)
    return office.post(reverse("people:roster-import"), {"file": file})


def columns(office, run: RosterRun, **changed):
    """Send the columns as they are suggested, with some changed by number."""
    page = office.get(reverse("people:roster-columns", args=[run.pk]))
    form = page.context["form"]
    fields = {name: field.initial for name, field in form.fields.items()}
    fields |= {name.replace("column_", "column-"): value for name, value in changed.items()}
    return office.post(reverse("people:roster-columns", args=[run.pk]), fields)


def choices(office, run: RosterRun, **changed):
    run.refresh_from_db()
    page = office.get(reverse("people:roster-check", args=[run.pk]))
    names = [name.casefold() for name in page.context["form"].class_names]
    fields = {"year": run.year_id, "take": names, **changed}
    return office.post(reverse("people:roster-check", args=[run.pk]), fields)


def apply(office, run: RosterRun, **more):
    page = office.get(reverse("people:roster-check", args=[run.pk]))
    digest = {"digest": page.context["plan"].digest, "by_mail": "yes"}
    return office.post(reverse("people:roster-apply", args=[run.pk]), {**digest, **more})


def latest() -> RosterRun:
    return RosterRun.objects.latest("pk")


def test_a_first_file_goes_by_its_columns_and_the_next_straight_to_the_rows(village, office):
    first = bring(office, harbour())
    assert first["Location"] == reverse("people:roster-columns", args=[latest().pk])
    columns(office, latest())
    second = bring(office, harbour())
    assert second["Location"] == reverse("people:roster-check", args=[latest().pk])


def test_a_file_is_run_from_its_pages_and_undone(village, office):
    bring(office, harbour(HARBOUR[3:]))
    columns(office, latest())
    apply(office, latest())
    assert Child.objects.filter(school=village.school, first_name="Dora").exists()
    office.post(reverse("people:roster-undo", args=[latest().pk]))
    assert not Child.objects.filter(first_name="Dora").exists()
    written = Event.objects.values_list("what", flat=True)
    assert {Event.What.ROSTER_APPLIED, Event.What.ROSTER_UNDONE} <= set(written)


def test_children_already_here_are_found_again_by_name_and_class(village, office):
    bring(office, csv_bytes(VILLAGE))
    columns(office, latest())
    plan = office.get(reverse("people:roster-check", args=[latest().pk])).context["plan"]
    assert plan.figures == {"same": 2}


def test_the_columns_page_shows_what_stands_in_each_column(village, office):
    bring(office, harbour())
    page = office.get(reverse("people:roster-columns", args=[latest().pk])).content.decode()
    assert "4 Mill Lane" in page
    assert "Parent 2 email" in page


def test_a_column_of_unique_pupil_numbers_is_refused(village, office):
    headings = ("UPN", "Forename", "Class")
    bring(office, csv_bytes([headings, ("B801200005001", "Eve", "Robins")]))
    page = columns(office, latest(), column_0="number")
    assert "unique pupil numbers" in str(page.context["form"].errors)


def test_without_a_name_or_class_column_the_office_is_told_what_is_missing(village, office):
    bring(office, csv_bytes([("Forename", "Colour"), ("Eve", "red")]))
    page = columns(office, latest())
    assert "class" in str(page.context["form"].errors)
    columns(office, latest(), one_class="Robins")
    assert latest().one_class == "Robins"


def test_rows_that_must_be_mended_are_shown_and_nothing_can_be_run(village, office):
    row = list(HARBOUR[0])
    row[HARBOUR_HEADINGS.index("DOB")] = "soon"
    bring(office, harbour([row]))
    columns(office, latest())
    page = office.get(reverse("people:roster-check", args=[latest().pk])).content.decode()
    assert "Row 4, column D" in page
    assert "Do all of this" not in page


def test_when_the_roster_changed_meanwhile_the_office_looks_again(village, office):
    bring(office, harbour())
    columns(office, latest())
    answer = apply(office, latest(), digest="of another plan")
    assert answer["Location"] == reverse("people:roster-check", args=[latest().pk])
    assert not Child.objects.filter(first_name="Dora").exists()


def test_classes_are_left_out_by_taking_their_tick_away(village, office):
    bring(office, harbour())
    columns(office, latest())
    choices(office, latest(), take=["robins"])
    apply(office, latest())
    assert not Child.objects.filter(first_name="Dora").exists()
    bring(office, harbour())
    assert latest().left_out == ["wrens"]


def test_many_leavers_need_a_tick_of_their_own(village, office):
    for number in range(20):
        Child.objects.create(
            school=village.school, school_class=village.robins, first_name=f"C{number}"
        )
    bring(office, csv_bytes(VILLAGE))
    columns(office, latest())
    choices(office, latest(), whole_school="on")
    apply(office, latest())
    assert village.robins.children.count() == 22
    apply(office, latest(), many_leave="yes")
    assert village.robins.children.count() == 2


def test_a_question_is_answered_on_the_page(village, office):
    rows = [VILLAGE[0], ("Aisha K", "Wrens", "new@example.org")]
    bring(office, csv_bytes(rows))
    columns(office, latest())
    check = reverse("people:roster-check", args=[latest().pk])
    assert office.get(check).context["plan"].is_blocked
    choices(office, latest(), **{"answer-2": str(village.aisha.pk)})
    page = office.get(check)
    assert [fate.words for fate in page.context["fates"]] == ["moves from Robins to Wrens"]


def test_a_file_that_is_dropped_is_gone(village, office):
    bring(office, harbour())
    office.post(reverse("people:roster-leave", args=[latest().pk]))
    assert latest().content is None


def test_a_new_file_takes_the_place_of_one_that_was_not_run(village, office):
    bring(office, harbour())
    first = latest()
    bring(office, small())
    first.refresh_from_db()
    assert (first.content, first.state) == (None, "dropped")


def test_a_file_that_cannot_be_read_is_said_to_be_so(village, office):
    page = bring(office, b"<html>")
    assert "web page" in str(page.context["form"].errors)
    assert not RosterRun.objects.exists()


def test_the_file_of_one_school_is_not_there_for_another(village, office, signed_in):
    bring(office, harbour())
    page = reverse("people:roster-columns", args=[latest().pk])
    assert signed_in("foreign lead").get(page).status_code == 404


def test_without_a_school_year_the_office_is_led_to_make_one(village, office):
    SchoolClass.objects.filter(year__school=village.school).delete()
    village.school.years.all().delete()
    bring(office, harbour())
    page = office.get(reverse("people:roster-check", args=[latest().pk]))
    assert page["Location"] == reverse("people:years")
