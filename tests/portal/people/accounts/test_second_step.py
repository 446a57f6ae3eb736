"""The second step of staff: set up, taken, lost, and asked for before any page of a child."""

import datetime as dt
import re
from base64 import b32decode

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from django_otp.oath import totp
from django_otp.plugins.otp_totp.models import TOTPDevice
from freezegun import freeze_time

from portal.people.models import Event, RecoveryCode
from tests.access.scene import routes
from tests.village import PASSWORD

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
# What is open to staff before the second step, beside the public pages.
OPEN_BEFORE_IT = {"people:second-step", "people:second-step-set", "people:again"}


@pytest.fixture
def strict(village):
    """Give the village, whose school asks for the second step."""
    village.school.requires_second_factor = True
    village.school.save()
    return village


def sign_in(client: Client | None = None, name: str = "teacher") -> Client:
    client = client or Client()
    typed = {"email": f"{name}@example.org", "password": PASSWORD}
    client.post(reverse("people:staff-sign-in"), typed)
    return client


def shown_by_app(device: TOTPDevice, later: int = 0) -> str:
    """Return the six digits that the app shows, *later* seconds from now."""
    now = timezone.now().timestamp() + later
    with freeze_time(dt.datetime.fromtimestamp(now, dt.UTC)):
        return f"{totp(device.bin_key):06}"


def set_up(client: Client) -> list[str]:
    """Set the second step up as a person does, and give the recovery codes shown."""
    page = client.get(reverse("people:second-step-set"))
    key = page.context["key"].replace("-", "")
    device = TOTPDevice(key=b32decode(key).hex())
    page = client.post(reverse("people:second-step-set"), {"code": shown_by_app(device)})
    return page.context["codes"]


def next_digits(name: str = "teacher") -> str:
    """Return the digits that the app shows half a minute on, as those of now are used up."""
    return shown_by_app(TOTPDevice.objects.get(user__email=f"{name}@example.org"), 30)


def is_in(client: Client) -> bool:
    return client.get(reverse("people:account")).status_code == 200


def test_until_it_is_set_up_staff_open_no_page_but_the_public_ones(strict, client):
    sign_in(client)
    closed = [
        client.generic(method, reverse(name))
        for name, route in routes().items()
        for method in ("GET", "POST")
        if getattr(route.callback, "login_required", True)
        and name not in OPEN_BEFORE_IT
        and not route.pattern.converters
    ]
    assert len(closed) > 30
    assert {page["Location"] for page in closed} == {reverse("people:second-step-set")}


@pytest.mark.parametrize("name", ["tasks:plan-week", "assessment:queue", "people:roster"])
def test_pages_about_a_class_are_closed_before_it_and_open_after(strict, name):
    lead = sign_in(name="lead")
    page = reverse(name, args=[strict.robins.pk])
    assert lead.get(page)["Location"] == reverse("people:second-step-set")
    set_up(lead)
    assert lead.get(page).status_code == 200


def test_setting_it_up_gives_ten_codes_that_are_not_kept_as_shown(strict, client):
    codes = set_up(sign_in(client))
    kept = set(RecoveryCode.objects.values_list("code_hash", flat=True))
    assert len(set(codes)) == len(kept) == 10
    assert not kept & set(codes)


def test_wrong_digits_set_nothing_up(strict, client):
    sign_in(client)
    client.get(reverse("people:second-step-set"))
    client.post(reverse("people:second-step-set"), {"code": "000000"})
    assert not TOTPDevice.objects.exists()


def test_once_it_is_set_up_the_password_alone_opens_nothing(strict, client):
    set_up(sign_in())
    sign_in(client)
    assert client.get(reverse("people:account"))["Location"] == reverse("people:second-step")


def test_the_digits_of_the_app_let_in_with_a_new_session_id_and_on_to_the_page(strict, client):
    set_up(sign_in())
    sign_in(client)
    client.get(reverse("people:account"))
    before = client.session.session_key
    page = client.post(reverse("people:second-step"), {"code": next_digits()})
    assert page["Location"] == reverse("people:account")
    assert client.session.session_key != before
    assert is_in(client)


def test_the_same_digits_do_not_pass_twice(strict, client):
    set_up(sign_in())
    digits = next_digits()
    sign_in().post(reverse("people:second-step"), {"code": digits})
    sign_in(client).post(reverse("people:second-step"), {"code": digits})
    assert not is_in(client)


def test_digits_of_an_hour_ago_do_not_pass(strict, client):
    set_up(sign_in())
    old = shown_by_app(TOTPDevice.objects.get(), -3600)
    sign_in(client).post(reverse("people:second-step"), {"code": old})
    assert not is_in(client)


def test_a_recovery_code_lets_in_once(strict, client):
    code = set_up(sign_in())[3]
    first = sign_in()
    first.post(reverse("people:second-step"), {"code": code.lower().replace("-", " ")})
    sign_in(client).post(reverse("people:second-step"), {"code": code})
    assert is_in(first)
    assert not is_in(client)
    assert RecoveryCode.objects.filter(used_at=None).count() == 9


def test_a_recovery_code_of_somebody_else_lets_nobody_in(strict, client):
    code = set_up(sign_in(name="lead"))[0]
    set_up(sign_in())
    sign_in(client).post(reverse("people:second-step"), {"code": code})
    assert not is_in(client)


def test_guessing_ends_after_ten_tries_and_may_go_on_a_quarter_of_an_hour_later(strict, client):
    codes = set_up(sign_in())
    now = timezone.now()
    with freeze_time(now):
        sign_in(client)
        page = reverse("people:second-step")
        statuses = [client.post(page, {"code": "BBBB-BBBB-BBBB"}).status_code for _n in range(11)]
        client.post(page, {"code": codes[0]})
        assert not is_in(client)
    assert statuses == [200] * 10 + [429]
    with freeze_time(now + dt.timedelta(minutes=15, seconds=5)):
        client.post(page, {"code": codes[0]})
        assert is_in(client)


def test_new_recovery_codes_make_the_old_ones_useless(strict, client):
    teacher = sign_in()
    old = set_up(teacher)
    new = teacher.post(reverse("people:recovery-codes")).context["codes"]
    assert not RecoveryCode.spend(strict.people["teacher"], old[0])
    assert RecoveryCode.spend(strict.people["teacher"], new[0])


def test_it_cannot_be_removed_where_the_school_asks_for_it(strict):
    teacher = sign_in()
    set_up(teacher)
    teacher.post(reverse("people:second-step-remove"))
    assert TOTPDevice.objects.exists()


def test_where_the_school_does_not_ask_it_is_taken_once_set_up_and_can_be_removed(village):
    teacher = sign_in()
    assert is_in(teacher)
    set_up(teacher)
    assert not is_in(sign_in())
    teacher.post(reverse("people:second-step-remove"))
    assert is_in(sign_in())
    assert not RecoveryCode.objects.exists()


def test_a_family_is_never_asked_for_it(strict, signed_in):
    assert signed_in("family").get(reverse("tasks:today")).status_code == 200


def test_the_rule_of_the_school_takes_effect_with_the_next_request(village):
    lead, teacher = sign_in(name="lead"), sign_in()
    assert is_in(teacher)
    lead.post(reverse("people:second-step-rule"), {"asks": "yes"})
    assert not is_in(teacher)
    set_up(lead)
    lead.post(reverse("people:second-step-rule"), {"asks": "no"})
    assert is_in(teacher)


def test_a_lead_takes_away_the_step_of_whoever_lost_their_phone(strict):
    teacher, lead = sign_in(), sign_in(name="lead")
    set_up(teacher)
    set_up(lead)
    post = strict.people["teacher"].posts.get()
    lead.post(reverse("people:staff-drop-step", args=[post.pk]))
    assert not is_in(teacher)
    again = sign_in()
    assert again.get(reverse("people:account"))["Location"] == reverse("people:second-step-set")


def test_what_is_done_with_it_is_written_down(strict):
    codes = set_up(sign_in())
    other = sign_in()
    other.post(reverse("people:second-step"), {"code": "BBBB"})
    other.post(reverse("people:second-step"), {"code": codes[0]})
    written = set(Event.objects.values_list("what", flat=True))
    assert {
        Event.What.SECOND_STEP_SET,
        Event.What.SECOND_STEP_FAILED,
        Event.What.RECOVERY_CODE_USED,
        Event.What.SECOND_STEP_PASSED,
    } <= written


def test_the_square_and_the_letters_say_the_same_key(strict, client):
    sign_in(client)
    page = client.get(reverse("people:second-step-set"))
    assert b"<svg" in page.content
    assert re.fullmatch(r"([A-Z2-7]{4}-)*[A-Z2-7]{1,4}", page.context["key"])
