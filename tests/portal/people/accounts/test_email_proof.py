"""An address nobody proved is no identity: nothing rests on it, and nobody is stopped by it."""

import ast
import re
from pathlib import Path

import pytest
from django.conf import settings
from django.core import mail
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from portal.people.accounts.staff import add_post, change_post
from portal.people.jobs import send_waiting_codes, send_waiting_invitations
from portal.people.models import Guardianship, Home, Invitation, StaffPost, User
from portal.people.roster_import.applying import apply_run
from portal.people.roster_import.running import plan_of, start_run
from tests.village import make_staff

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
HERON, NEW = "heron@example.org", "a quiet shoreline walk"


def is_in(client: Client) -> bool:
    return client.get(reverse("people:account")).status_code == 200


def slip_for(village, child="ben", home="bens_home") -> str:
    return Invitation.issue(getattr(village, child), getattr(village, home), village.people["lead"])


def come_in(village, email: str, client: Client | None = None, slip: str = "") -> Client:
    """Come in by a slip of Ben's home, typing *email*."""
    client = client or Client()
    typed = {"slip": slip or slip_for(village), "name": "Kit", "email": email}
    assert client.post(reverse("people:come-in"), typed).status_code == 302
    return client


def prove(client: Client) -> None:
    """Have the typed address proved by the code that is mailed there."""
    mail.outbox.clear()
    client.post(reverse("people:confirm"))
    send_waiting_codes()
    type_code(client)


def type_code(client: Client) -> None:
    digits = re.search(r"\b(\d{6})\b", mail.outbox[-1].body)[1]
    client.post(reverse("people:code"), {"code": digits})


def set_password_by_mail() -> None:
    link = re.search(r"http://\S+(/set-password/\S+)", mail.outbox[-1].body)[1]
    browser = Client()
    browser.get(link)
    browser.post(reverse("people:set-password"), {"new_password1": NEW, "new_password2": NEW})


def sign_in(email: str, password: str) -> Client:
    client = Client()
    client.post(reverse("people:staff-sign-in"), {"email": email, "password": password})
    return client


def sees_class(client: Client, village) -> bool:
    return client.get(reverse("assessment:queue", args=[village.robins.pk])).status_code == 200


def make_teacher(village, email: str = HERON) -> StaffPost:
    return add_post(
        village.school, email=email, name="Sam Heron", role="teacher", classes=[village.robins]
    )


def test_whoever_typed_an_address_does_not_teach_once_a_lead_adds_it(village):
    squatter = come_in(village, HERON)
    make_teacher(village)
    assert not sees_class(squatter, village)
    assert is_in(squatter)
    assert squatter.get(reverse("tasks:today")).status_code == 200


def test_the_rightful_one_comes_in_by_the_mail_and_the_other_keeps_their_home_alone(village):
    squatter = come_in(village, HERON)
    make_teacher(village)
    send_waiting_invitations()
    set_password_by_mail()
    teacher = sign_in(HERON, NEW)
    assert sees_class(teacher, village)
    owner = User.objects.proved(HERON).get()
    assert not owner.guardianships.exists()
    other = User.objects.get(guardianships__child=village.ben, name="Kit")
    assert other.email == ""
    assert is_in(squatter)


def test_a_post_opens_nothing_before_its_holder_has_proved_the_address(village):
    post = make_teacher(village)
    pending = Client()
    pending.force_login(post.user)
    assert not sees_class(pending, village)
    assert not post.user.has_post
    assert post not in StaffPost.objects.current()


def test_a_post_ends_every_session_of_who_gets_it(village):
    adult = come_in(village, HERON)
    prove(adult)
    asleep = Client()
    asleep.force_login(User.objects.proved(HERON).get())
    make_teacher(village)
    assert not is_in(adult)
    assert not is_in(asleep)


def test_another_role_ends_every_session(village):
    asleep = Client()
    asleep.force_login(village.people["assistant"])
    change_post(village.people["assistant"].posts.get(), role="lead", classes=[])
    assert not is_in(asleep)


def test_a_code_asked_for_before_the_post_does_not_let_staff_in_without_a_password(village):
    adult = come_in(village, HERON)
    prove(adult)
    other = Client()
    other.post(reverse("people:sign-in"), {"email": HERON})
    send_waiting_codes()
    make_teacher(village)
    type_code(other)
    assert not is_in(other)


def test_an_adult_who_proves_the_address_a_lead_added_gets_the_post_and_no_open_session(village):
    post = make_teacher(village)
    adult = come_in(village, HERON)
    prove(adult)
    post.refresh_from_db()
    assert post.user == User.objects.proved(HERON).get()
    assert not is_in(adult)
    mail.outbox.clear()
    send_waiting_invitations()
    set_password_by_mail()
    assert sees_class(sign_in(HERON, NEW), village)


def test_a_mailed_invitation_wins_over_who_typed_its_address(village):
    squatter = come_in(village, HERON)
    Invitation.ask_by_mail(village.aisha, village.first_home, HERON, village.people["lead"])
    send_waiting_invitations()
    letters = re.search(r"#(\S+)", mail.outbox[-1].body)[1]
    rightful = come_in(village, HERON, slip=letters)
    owner = User.objects.proved(HERON).get()
    assert [tie.child for tie in owner.guardianships.all()] == [village.aisha]
    assert is_in(rightful)
    assert is_in(squatter)
    assert User.objects.get(name="Kit", guardianships__child=village.ben).email == ""


def test_a_mailed_invitation_proves_its_address_though_none_is_typed(village):
    Invitation.ask_by_mail(village.aisha, village.first_home, HERON, village.people["lead"])
    send_waiting_invitations()
    come_in(village, "", slip=re.search(r"#(\S+)", mail.outbox[-1].body)[1])
    assert User.objects.proved(HERON).get().guardianships.get().child == village.aisha


def test_the_office_can_invite_an_address_that_another_adult_typed(village, signed_in):
    come_in(village, HERON)
    typed = {"email": HERON, "home": "new", "language": "en-gb"}
    signed_in("office").post(reverse("people:invite-by-mail", args=[village.ben.pk]), typed)
    assert Invitation.objects.open().filter(email=HERON, child=village.ben).exists()


def test_a_roster_file_invites_an_address_that_another_adult_typed(village):
    come_in(village, HERON)
    file = f"Forename,Surname,Reg group,Parent 1 email\nBen,Tern,Robins,{HERON}\n".encode()
    run = start_run(village.school, village.people["office"], file)
    apply_run(run, plan_of(run).digest, by_mail=True, made_by=village.people["office"])
    assert Invitation.objects.open().filter(email=HERON, child=village.ben).exists()


def test_of_two_who_type_one_address_the_one_who_proves_it_has_it(village):
    first, second = come_in(village, HERON), come_in(village, HERON)
    prove(second)
    mail.outbox.clear()
    assert first.post(reverse("people:confirm"))["Location"] == reverse("people:account")
    send_waiting_codes()
    assert not mail.outbox
    assert is_in(first)
    assert User.objects.proved(HERON).count() == 1


def test_two_accounts_cannot_have_one_proved_address_in_the_database(village):
    from django.db import IntegrityError

    now = timezone.now()
    User.objects.create_user(HERON, "One", email_confirmed_at=now)
    with pytest.raises(IntegrityError):
        User.objects.create_user(HERON, "Two", email_confirmed_at=now)


def test_no_code_or_password_belongs_to_an_address_that_was_only_typed(village):
    come_in(village, HERON)
    User.objects.filter(email=HERON).update(password=village.people["teacher"].password)
    Client().post(reverse("people:sign-in"), {"email": HERON})
    Client().post(reverse("people:forgotten"), {"email": HERON})
    send_waiting_codes()
    send_waiting_invitations()
    assert not mail.outbox
    assert not is_in(sign_in(HERON, "a long kitchen password"))


ADDRESSED = re.compile(r"(?:(?:.*__)?(?:user|adult|recipient|sender|who)__)?email(?:__\w+)?")


def lookups(source: str):
    """Yield the lines of *source* that look rows up by an address, but for those of invitations."""
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, ast.Call):
            continue
        name = getattr(node.func, "attr", getattr(node.func, "id", ""))
        if name not in {"get", "filter", "exclude", "Q", "get_or_create", "get_object_or_404"}:
            continue
        for keyword in node.keywords:
            is_empty = isinstance(keyword.value, ast.Constant) and keyword.value.value == ""
            if keyword.arg and ADDRESSED.fullmatch(keyword.arg) and not is_empty:
                yield ast.unparse(node)


def test_nothing_in_the_code_looks_an_account_up_by_an_address_but_the_methods_for_it():
    root, found = Path(settings.BASE_DIR), set()
    for room in ("portal", "tasks", "evidence", "assessment"):
        for path in (root / room).rglob("*.py"):
            if "migrations" in path.parts or path.name == "users.py":
                continue
            found |= {f"{path.name}: {line}" for line in lookups(path.read_text())}
    assert {each for each in found if "Invitation.objects" not in each} == set()


def test_that_reading_finds_every_way_to_write_one():
    wrong = "User.objects.filter(email=e); Q(adult__email__in=e); posts.get(user__email=e)"
    assert len(list(lookups(wrong))) == 3
    assert not list(lookups("rows.exclude(email=''); User.objects.proved(e); f(email=e)"))


def test_a_claim_with_a_post_is_split_in_a_database_of_before(village):
    from importlib import import_module

    from django.apps import apps

    squatter = come_in(village, HERON)
    user = User.objects.get(email=HERON)
    StaffPost.objects.create(user=user, school=village.school, role="teacher")
    keeper = make_staff("keeper", village.school, "office", [])
    User.objects.filter(pk=keeper.pk).update(email_confirmed_at=None)
    steps = import_module("portal.people.migrations.0005_powers_apart_from_claims")
    steps.prove_holders_of_passwords(apps, None)
    steps.split(apps, None)
    post = StaffPost.objects.get(role="teacher", ended_at=None, user__email=HERON)
    assert post.user != user
    assert not is_in(squatter)
    assert Guardianship.objects.current().get(adult=user).child == village.ben
    assert User.objects.proved(keeper.email).get() == keeper


def test_a_home_s_adults_are_shown_to_the_office_with_what_is_proved(village, signed_in):
    come_in(village, "")
    page = signed_in("office").get(reverse("people:homes", args=[village.ben.pk]))
    assert "no address: comes in by slip, since" in page.content.decode()
    assert Home.objects.of(village.ben).count() == 1
