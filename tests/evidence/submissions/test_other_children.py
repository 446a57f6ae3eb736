"""A piece that shows another child stays with the home that sent it and the staff of the class."""

import random

import pytest
from django.utils import timezone

from evidence.models import Piece, Rendition
from evidence.submissions import other_children
from portal.people.models import Child, Consent, Guardianship, Purpose, StaffPost
from tests.access.scene import ROLES
from tests.evidence.builders import make_ready_piece, make_submission

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
FREE = {"family", "teacher", "assistant"}
SECRET = b"\xff\xd8\xff\xe0 the picture that shows Ben "


def say(village, adult, child, given, purpose=Purpose.OUTSIDE):
    own = Guardianship.objects.get(adult=village.people[adult], child=child)
    Consent.answer(own, purpose, given=given, wording=1)


def picture(village, *children: Child, strangers=False) -> Piece:
    """Make a picture that Aisha's first home sent, and that shows *children* too."""
    piece = make_ready_piece(make_submission(village), SECRET)
    other_children.name_children(piece, children, strangers=strangers, by=village.people["teacher"])
    return piece


def opens(village, role: str) -> bool:
    return Rendition.objects.visible_to(village.people[role]).exists()


def who_opens(village) -> set[str]:
    return {role for role in ROLES if role != "visitor" and opens(village, role)}


def test_a_picture_of_one_child_opens_for_the_lead_as_ever(village):
    make_ready_piece(make_submission(village))
    assert who_opens(village) == FREE | {"lead"}


def test_a_picture_of_two_opens_for_home_and_class_alone(village):
    picture(village, village.ben)
    assert who_opens(village) == FREE


def test_it_opens_further_once_every_child_s_home_agrees_and_closes_at_the_next_request(village):
    picture(village, village.ben, village.cal)
    say(village, "other family", village.ben, True)
    assert "lead" not in who_opens(village)
    say(village, "family", village.cal, True)
    assert who_opens(village) == FREE | {"lead"}
    say(village, "other family", village.ben, False)
    assert who_opens(village) == FREE


def test_consent_to_something_else_does_not_open_it(village):
    picture(village, village.ben)
    for purpose in (Purpose.DISPLAY, Purpose.FAMILIES):
        say(village, "other family", village.ben, True, purpose)
    assert who_opens(village) == FREE


def test_a_picture_marked_by_the_family_stays_until_staff_say_who_is_in_it(village):
    piece = make_ready_piece(make_submission(village))
    other_children.mark([piece], village.people["family"])
    say(village, "other family", village.ben, True)
    assert who_opens(village) == FREE
    other_children.name_children(
        piece, [village.ben], strangers=False, by=village.people["teacher"]
    )
    assert "lead" in who_opens(village)


def test_a_child_that_nobody_can_ask_for_keeps_it_in_for_good(village):
    picture(village, village.ben, strangers=True)
    say(village, "other family", village.ben, True)
    assert who_opens(village) == FREE


def test_the_home_of_the_child_who_is_shown_never_sees_it_unasked(village):
    picture(village, village.ben)
    say(village, "other family", village.ben, True)
    assert not opens(village, "other family")


def test_a_lead_who_also_works_in_the_class_is_staff_of_the_class(village):
    picture(village, village.ben)
    lead = village.people["lead"]
    post = StaffPost.objects.create(user=lead, school=village.school, role="teacher")
    post.classes.add(village.robins)
    assert opens(village, "lead")
    StaffPost.objects.filter(pk=post.pk).update(ended_at=timezone.now())
    assert not opens(village, "lead")


def test_taking_the_mark_back_takes_the_names_too(village):
    piece = picture(village, village.ben)
    other_children.unmark(piece)
    assert "lead" in who_opens(village)
    assert not other_children.ShownChild.objects.exists()


def test_marking_twice_is_marking_once(village):
    piece = picture(village, village.ben)
    other_children.mark([piece], village.people["family"])
    assert list(piece.others_shown.children.values_list("child", flat=True)) == [village.ben.pk]


@pytest.mark.parametrize("seed", range(30))
def test_whatever_is_answered_in_whatever_order_one_missing_yes_keeps_it_in(village, seed):
    """Random answers of random adults against a rule written out in plain Python."""
    chance = random.Random(seed)
    adults = {("family", village.cal), ("other family", village.ben), ("second home", village.ben)}
    Guardianship.objects.create(
        adult=village.people["second home"], child=village.ben, home=village.second_home
    )
    children = chance.sample([village.ben, village.cal], chance.randint(0, 2))
    strangers = chance.random() < 0.2
    picture(village, *children, strangers=strangers)
    last: dict[tuple[str, int], bool] = {}
    for _step in range(12):
        adult, child = chance.choice(sorted(adults, key=lambda pair: (pair[0], pair[1].pk)))
        last[adult, child.pk] = given = chance.random() < 0.7
        say(village, adult, child, given)
        agreed = {
            each.pk: (votes := [yes for (_a, pk), yes in last.items() if pk == each.pk])
            and all(votes)
            for each in (village.ben, village.cal)
        }
        clear = bool(children) and not strangers and all(agreed[each.pk] for each in children)
        assert opens(village, "lead") is clear
