"""Staff are added by mail, changed, and out at once when their post ends."""

import re

import pytest
from django.core import mail
from django.core.management import CommandError, call_command
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from portal.people.jobs import mail_staff_link, send_waiting_invitations
from portal.people.models import School, StaffPost, User
from tests.portal.people.proof import freshen
from tests.village import PASSWORD

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
NEW = "a brand new kitchen password"


def add(signed_in, **typed):
    first = {"name": "Sam Heron", "email": "Heron@example.org", "role": "teacher"}
    return freshen(signed_in("lead")).post(reverse("people:staff-add"), {**first, **typed})


def mailed_link() -> str:
    return re.search(r"http://\S+(/set-password/\S+)", mail.outbox[-1].body)[1]


def set_password(link: str, password: str = NEW) -> Client:
    client = Client()
    client.get(link)
    typed = {"new_password1": password, "new_password2": password}
    client.post(reverse("people:set-password"), typed)
    return client


def sign_in(email: str, password: str) -> Client:
    client = Client()
    client.post(reverse("people:staff-sign-in"), {"email": email, "password": password})
    return client


def is_in(client: Client) -> bool:
    return client.get(reverse("people:account")).status_code == 200


def post_of(village, name: str = "teacher") -> StaffPost:
    return village.people[name].posts.get()


def test_a_new_teacher_sets_a_password_by_the_mail_and_sees_the_class(village, signed_in):
    add(signed_in, classes=[village.robins.pk])
    send_waiting_invitations()
    assert mail.outbox[-1].to == ["heron@example.org"]
    set_password(mailed_link())
    teacher = sign_in("heron@example.org", NEW)
    assert teacher.get(reverse("assessment:queue", args=[village.robins.pk])).status_code == 200


def test_the_link_is_out_of_the_address_at_once_and_works_once(village, signed_in):
    add(signed_in)
    send_waiting_invitations()
    link = mailed_link()
    assert Client().get(link)["Location"] == reverse("people:set-password")
    set_password(link)
    set_password(link, "quite another password")
    assert is_in(sign_in("heron@example.org", NEW))


def test_opening_the_link_uses_nothing_up(village, signed_in):
    add(signed_in)
    send_waiting_invitations()
    for _scanner in range(3):
        Client().get(mailed_link(), follow=True)
    set_password(mailed_link())
    assert is_in(sign_in("heron@example.org", NEW))


@pytest.mark.parametrize("key", ["", "x", "MQ.wrong", "é.x", "MQ.", "."])
def test_a_made_up_link_sets_nothing(village, key):
    client = Client()
    client.get(reverse("people:set-password"), {"key": key})
    typed = {"new_password1": NEW, "new_password2": NEW}
    page = client.post(reverse("people:set-password"), typed)
    assert "form" not in page.context


def test_the_mail_goes_out_once_however_often_its_job_is_sent(village, signed_in):
    add(signed_in)
    post = StaffPost.objects.get(user__email="heron@example.org")
    mail_staff_link(post.pk)
    mail_staff_link(post.pk)
    send_waiting_invitations()
    assert len(mail.outbox) == 1


def test_adding_an_adult_at_home_gives_one_account_both(village, signed_in):
    User.objects.filter(pk=village.people["family"].pk).update(email_confirmed_at=timezone.now())
    add(signed_in, email="family@example.org", role="assistant")
    assert User.objects.filter(email="family@example.org").count() == 1
    assert village.people["family"].guardianships.exists()
    assert village.people["family"].posts.get().role == "assistant"


def test_a_lead_changes_classes_and_the_next_request_knows(village, signed_in):
    teacher = signed_in("teacher")
    changed = {"role": "teacher", "classes": [village.wrens.pk]}
    page = reverse("people:staff-post", args=[post_of(village).pk])
    freshen(signed_in("lead")).post(page, changed)
    assert teacher.get(reverse("assessment:queue", args=[village.robins.pk])).status_code == 404
    assert teacher.get(reverse("assessment:queue", args=[village.wrens.pk])).status_code == 200


def test_a_class_of_another_school_cannot_be_given(village, signed_in):
    other = village.dot.school_class
    page = add(signed_in, classes=[other.pk])
    assert page.context["form"].errors
    assert not User.objects.filter(email="heron@example.org").exists()


def test_ending_a_post_signs_out_at_once_and_the_password_is_gone(village, signed_in):
    teacher = sign_in("teacher@example.org", PASSWORD)
    assert is_in(teacher)
    signed_in("lead").post(reverse("people:staff-end", args=[post_of(village).pk]))
    assert not is_in(teacher)
    assert not is_in(sign_in("teacher@example.org", PASSWORD))


def test_an_old_link_opens_nothing_after_the_post_has_ended(village, signed_in):
    add(signed_in)
    send_waiting_invitations()
    link = mailed_link()
    post = StaffPost.objects.get(user__email="heron@example.org")
    signed_in("lead").post(reverse("people:staff-end", args=[post.pk]))
    set_password(link)
    assert not is_in(sign_in("heron@example.org", NEW))


def test_the_last_lead_stays(village, signed_in):
    post = post_of(village, "lead")
    signed_in("lead").post(reverse("people:staff-end", args=[post.pk]))
    freshen(signed_in("lead")).post(
        reverse("people:staff-post", args=[post.pk]), {"role": "office"}
    )
    post.refresh_from_db()
    assert (post.ended_at, post.role) == (None, "lead")


def test_with_a_second_lead_the_first_may_go(village, signed_in):
    add(signed_in, role="lead")
    post = post_of(village, "lead")
    signed_in("lead").post(reverse("people:staff-end", args=[post.pk]))
    post.refresh_from_db()
    assert post.ended_at


def test_the_list_shows_who_came_in_when_and_the_longest_away_first(village, signed_in):
    sign_in("assistant@example.org", PASSWORD)
    page = signed_in("lead").get(reverse("people:staff"))
    names = [post.user.name for post in page.context["posts"]]
    assert names.index("Teacher") < names.index("Assistant")
    assert "Foreign-Lead" not in page.content.decode()


def test_a_lead_keeps_no_staff_of_another_school(village, signed_in):
    page = reverse("people:staff-end", args=[post_of(village).pk])
    assert signed_in("foreign lead").post(page).status_code == 404


def test_a_new_link_is_mailed_to_whoever_forgot_their_password(village, signed_in):
    freshen(signed_in("lead")).post(reverse("people:staff-link", args=[post_of(village).pk]))
    send_waiting_invitations()
    set_password(mailed_link())
    assert is_in(sign_in("teacher@example.org", NEW))


def test_setting_a_password_by_link_signs_out_everywhere(village, signed_in):
    teacher = sign_in("teacher@example.org", PASSWORD)
    freshen(signed_in("lead")).post(reverse("people:staff-link", args=[post_of(village).pk]))
    send_waiting_invitations()
    set_password(mailed_link())
    assert not is_in(teacher)


def add_lead(capsys, **more) -> str:
    words = {"email": "first@example.org", "name": "Kit Plover", "school": "Plover Bay", **more}
    call_command("add_lead", **words)
    return capsys.readouterr().out


def test_the_first_lead_comes_from_the_command_line_without_a_password(capsys):
    said = add_lead(capsys)
    user = User.objects.get(email="first@example.org")
    assert not user.has_usable_password()
    assert School.objects.get(name="Plover Bay").requires_second_factor
    set_password(re.search(r"http://\S+(/set-password/\S+)", said)[1])
    lead = sign_in("first@example.org", NEW)
    page = lead.get(reverse("people:classes"))
    assert page["Location"] == reverse("people:second-step-set")


def test_the_command_run_again_gives_a_new_link_and_no_second_school(capsys):
    add_lead(capsys)
    add_lead(capsys)
    assert School.objects.filter(name="Plover Bay").count() == 1
    assert StaffPost.objects.filter(user__email="first@example.org").count() == 1


@pytest.mark.parametrize("wrong", [{"email": "nowhere"}, {"school": " "}, {"time_zone": "Moon"}])
def test_the_command_refuses_nonsense_in_a_sentence(capsys, wrong):
    with pytest.raises(CommandError):
        add_lead(capsys, **wrong)
    assert not User.objects.exists()
