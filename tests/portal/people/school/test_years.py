"""School years are made, and children move up into their classes."""

import datetime as dt

import pytest
from django.urls import reverse

from portal.people.models import SchoolYear

pytestmark = [pytest.mark.django_db, pytest.mark.servers]


def make_year(signed_in, **typed):
    first = {"starts": "2027-09-01", "ends": "2028-07-20", "class_names": "Owls\n\n Year 1 \n"}
    return signed_in("office").post(reverse("people:years"), {**first, **typed})


@pytest.fixture
def next_year(village, signed_in) -> SchoolYear:
    make_year(signed_in)
    return SchoolYear.objects.get(starts=dt.date(2027, 9, 1))


def move(signed_in, village, year, robins: str, wrens: str = "stays"):
    choices = {f"class-{village.robins.pk}": robins, f"class-{village.wrens.pk}": wrens}
    return signed_in("office").post(reverse("people:move-up", args=[year.pk]), choices)


def test_a_year_is_made_with_its_classes(next_year):
    assert [each.name for each in next_year.classes.all()] == ["Owls", "Year 1"]


@pytest.mark.parametrize(
    "wrong",
    [
        {"ends": "2027-08-01"},
        {"starts": "2027-07-01"},
        {"class_names": "Owls\nowls"},
        {"class_names": "O" * 41},
        {"class_names": " \n"},
        {"starts": "soon"},
    ],
)
def test_a_year_that_cannot_be_is_refused(village, signed_in, wrong):
    page = make_year(signed_in, **wrong)
    assert page.context["form"].errors
    assert SchoolYear.objects.filter(school=village.school).count() == 1


def test_children_move_up_together_and_leave_their_groups(village, signed_in, next_year):
    owls = next_year.classes.get(name="Owls")
    move(signed_in, village, next_year, str(owls.pk))
    assert {str(child) for child in owls.children.all()} == {"Aisha K", "Ben T"}
    assert not village.bens_group.children.exists()
    village.cal.refresh_from_db()
    assert village.cal.school_class == village.wrens


def test_the_old_teacher_sees_them_no_more_from_the_next_request_on(village, signed_in, next_year):
    teacher = signed_in("teacher")
    page = reverse("assessment:child", args=[village.aisha.pk])
    assert teacher.get(page).status_code == 200
    move(signed_in, village, next_year, str(next_year.classes.get(name="Owls").pk))
    assert teacher.get(page).status_code == 404


def test_a_class_that_leaves_is_in_no_class_and_keeps_its_homes(village, signed_in, next_year):
    move(signed_in, village, next_year, "leaves")
    village.aisha.refresh_from_db()
    assert village.aisha.school_class is None
    assert village.aisha.homes.count() == 2


def test_a_class_of_another_school_is_nowhere_to_move_to(village, signed_in, next_year):
    page = move(signed_in, village, next_year, str(village.dot.school_class_id))
    assert page.context["form"].errors


def test_classes_of_an_earlier_year_stand_apart(village, signed_in):
    year = village.robins.year
    year.starts, year.ends = dt.date(2020, 9, 1), dt.date(2021, 7, 20)
    year.save()
    page = signed_in("lead").get(reverse("people:classes"))
    assert not page.context["rows"]
    assert len(page.context["earlier"]) == 2
