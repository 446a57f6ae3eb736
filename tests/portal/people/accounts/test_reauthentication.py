"""A copy of a child's data, and power over it, need a proved address and a sign-in just now."""

import pytest
from django.urls import reverse

from portal.data_protection.data_export.requesting import ask_for_copy
from portal.data_protection.jobs import make_copy
from portal.data_protection.models import DataExport
from portal.people.accounts.staff import add_post
from portal.people.models import StaffPost, User
from tests.portal.people.proof import freshen, prove

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
AGAIN = reverse("people:again")


def is_sent_to_prove(answer) -> bool:
    return answer.status_code == 302 and answer["Location"] == AGAIN


def copy_of_home(village) -> DataExport:
    copy = ask_for_copy(village.aisha, village.first_home, village.people["family"])
    make_copy(copy.pk)
    return copy


def test_a_copy_is_not_made_for_an_open_phone_that_nobody_has_signed_in_on_of_late(
    village, signed_in
):
    prove(village.people["family"])
    page = reverse("privacy:family-copy", args=[village.aisha.pk])
    family = signed_in("family")
    assert is_sent_to_prove(family.post(page))
    assert not DataExport.objects.exists()
    freshen(family).post(page)
    assert DataExport.objects.get().home == village.first_home


def test_a_copy_that_is_made_is_not_given_out_on_an_open_phone_either(village, signed_in):
    prove(village.people["family"])
    page = reverse("privacy:copy-file", args=[copy_of_home(village).token])
    family = signed_in("family")
    assert is_sent_to_prove(family.get(page))
    assert freshen(family).get(page).status_code == 200


def test_no_copy_goes_to_an_address_nobody_has_proved(village, signed_in):
    page = reverse("privacy:family-copy", args=[village.aisha.pk])
    answer = freshen(signed_in("family")).post(page, follow=True)
    assert "confirm it here, or ask the school" in answer.content.decode()
    assert not DataExport.objects.exists()
    file = reverse("privacy:copy-file", args=[copy_of_home(village).token])
    assert freshen(signed_in("family")).get(file).status_code == 302


def test_the_lead_s_copy_of_a_child_needs_a_fresh_sign_in(village, signed_in):
    page = reverse("privacy:child-copy", args=[village.aisha.pk])
    lead = signed_in("lead")
    assert is_sent_to_prove(lead.post(page))
    assert not DataExport.objects.exists()
    freshen(lead).post(page)
    assert DataExport.objects.get().home is None


def test_adding_staff_needs_a_fresh_sign_in(village, signed_in):
    page, told = reverse("people:staff-add"), {"name": "Sam", "role": "lead"}
    lead = signed_in("lead")
    for answer in (lead.get(page), lead.post(page, told | {"email": "sam@example.org"})):
        assert is_sent_to_prove(answer)
    assert not User.objects.filter(name="Sam").exists()
    freshen(lead).post(page, told | {"email": "sam@example.org"})
    assert StaffPost.objects.active().filter(user__name="Sam").exists()


@pytest.mark.parametrize("page", ["staff-post", "staff-link", "staff-drop-step"])
def test_giving_staff_more_or_letting_them_in_anew_needs_a_fresh_sign_in(village, signed_in, page):
    post = add_post(village.school, email="a@b.org", name="A", role="office", classes=[])
    StaffPost.objects.filter(pk=post.pk).update(link_wanted_at=None)
    address = reverse(f"people:{page}", args=[post.pk])
    assert is_sent_to_prove(signed_in("lead").post(address, {"role": "lead"}))
    post.refresh_from_db()
    assert (post.role, post.link_wanted_at) == ("office", None)


def test_whoever_proves_it_on_the_way_comes_back_to_the_page_with_the_button(village, signed_in):
    from tests.village import PASSWORD

    lead = signed_in("lead")
    button = reverse("privacy:child-copy", args=[village.aisha.pk])
    page = reverse("privacy:child", args=[village.aisha.pk])
    lead.post(button, headers={"Referer": f"http://testserver{page}"})
    assert lead.post(AGAIN, {"password": PASSWORD})["Location"] == page
    lead.session.flush()
    other = signed_in("lead")
    other.post(button, headers={"Referer": f"http://evil.test{page}"})
    assert other.post(AGAIN, {"password": PASSWORD})["Location"] == "/"
