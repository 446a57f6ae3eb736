"""How often one may knock, what a stranger learns, and the link in the mail."""

import datetime as dt
import re
import statistics
import time

import pytest
from django.core import mail
from django.test import Client, RequestFactory
from django.urls import reverse
from django.utils import timezone
from freezegun import freeze_time

from portal.people.door_limits import source_of
from portal.people.jobs import send_waiting_codes
from portal.people.models import Event, Invitation, SignInCode
from tests.village import PASSWORD

pytestmark = [pytest.mark.django_db, pytest.mark.servers]


@pytest.fixture
def confirmed(village):
    """Give the family's adult, whose address is confirmed."""
    user = village.people["family"]
    user.email_confirmed_at = timezone.now()
    user.save()
    return user


def ask(client: Client, email: str, source: str = "192.0.2.1"):
    return client.post(reverse("people:sign-in"), {"email": email}, REMOTE_ADDR=source)


def sign_in_by_password(client: Client, password: str, source: str = "192.0.2.1"):
    typed = {"email": "teacher@example.org", "password": password}
    return client.post(reverse("people:staff-sign-in"), typed, REMOTE_ADDR=source)


def mailed_link() -> str:
    return re.search(r"/sign-in/link/#(\S+)", mail.outbox[-1].body)[1]


def is_in(client: Client) -> bool:
    return "_auth_user_id" in client.session


def test_the_fourth_mail_to_an_address_in_a_quarter_of_an_hour_is_refused(confirmed):
    statuses = [ask(Client(), confirmed.email, f"192.0.2.{n}").status_code for n in range(4)]
    assert statuses == [302, 302, 302, 429]


def test_the_limit_is_the_same_for_an_address_nobody_has(confirmed):
    for email in (confirmed.email, "nobody@example.org"):
        answers = [ask(Client(), email, f"192.0.2.{n}") for n in range(4)]
        assert [answer.status_code for answer in answers] == [302, 302, 302, 429]


def test_the_eleventh_code_from_one_place_in_an_hour_is_refused():
    statuses = [ask(Client(), f"a{n}@example.org").status_code for n in range(11)]
    assert statuses == [302] * 10 + [429]
    assert ask(Client(), "a11@example.org", "192.0.2.2").status_code == 302


def test_a_family_that_keeps_asking_too_early_is_let_in_after_a_quarter_of_an_hour(confirmed):
    now = timezone.now()
    for minute in range(15):
        with freeze_time(now + dt.timedelta(minutes=minute)):
            ask(Client(), confirmed.email, f"192.0.2.{minute}")
    with freeze_time(now + dt.timedelta(minutes=15, seconds=5)):
        assert ask(Client(), confirmed.email, "192.0.2.99").status_code == 302


def test_what_a_stranger_asks_for_does_not_spoil_a_familys_own_code(confirmed, client):
    ask(client, confirmed.email)
    send_waiting_codes()
    link = mailed_link()
    stranger = Client()
    ask(stranger, confirmed.email, "198.51.100.1")
    for _try in range(5):
        stranger.post(reverse("people:code"), {"code": "000000"})
    client.post(reverse("people:link"), {"link": link})
    assert is_in(client)


def test_the_link_in_the_mail_lets_in_when_its_button_is_pressed(confirmed, client):
    ask(client, confirmed.email)
    send_waiting_codes()
    assert client.post(reverse("people:link"), {"link": mailed_link()}).status_code == 302
    assert is_in(client)


def test_opening_the_link_spends_nothing(confirmed, client):
    ask(client, confirmed.email)
    send_waiting_codes()
    link = mailed_link()
    for scanner in (Client(), client):
        assert scanner.get(f"{reverse('people:link')}?link={link}").status_code == 200
    client.post(reverse("people:link"), {"link": link})
    assert is_in(client)


def test_the_link_is_of_no_use_in_another_browser_and_works_once(confirmed, client):
    ask(client, confirmed.email)
    send_waiting_codes()
    link = mailed_link()
    thief = Client()
    ask(thief, confirmed.email, "198.51.100.1")
    thief.post(reverse("people:link"), {"link": link})
    client.post(reverse("people:link"), {"link": link})
    again = Client()
    again.cookies = client.cookies.copy()
    client.post(reverse("people:sign-out"))
    client.post(reverse("people:link"), {"link": link})
    assert not is_in(thief)
    assert not is_in(client)


def test_neither_code_nor_link_stands_in_the_database_as_mailed(confirmed, client):
    ask(client, confirmed.email)
    send_waiting_codes()
    row = SignInCode.objects.get()
    digits = re.search(r"\b(\d{6})\b", mail.outbox[-1].body)[1]
    assert not {digits, mailed_link()} & {row.code_hash, row.link_hash, row.browser_hash}


def test_a_mail_that_cannot_be_sent_is_tried_again(confirmed, client, monkeypatch):
    ask(client, confirmed.email)
    with monkeypatch.context() as broken:
        broken.setattr(
            "portal.people.mails.send_mail", lambda *_args: (_ for _ in ()).throw(OSError)
        )
        send_waiting_codes()
    assert not mail.outbox
    send_waiting_codes()
    assert len(mail.outbox) == 1


def test_asking_takes_as_long_for_an_unknown_address_as_for_a_known_one(confirmed):
    """The bound is generous: ten milliseconds between the medians, and ten times one's own."""
    taken: dict[str, list[float]] = {confirmed.email: [], "nobody@example.org": []}
    with freeze_time(timezone.now(), tick=True) as clock:
        for number in range(60):
            clock.tick(dt.timedelta(hours=2))
            for email, times in taken.items():
                began = time.perf_counter()
                ask(Client(), email, f"192.0.2.{number}")
                times.append(time.perf_counter() - began)
    known, unknown = (statistics.median(times) for times in taken.values())
    assert abs(known - unknown) < max(0.010, 0.3 * known)


def test_five_wrong_passwords_lock_that_place_out_and_no_other(village):
    for _try in range(5):
        last = sign_in_by_password(Client(), "wrong password")
    right = Client()
    assert last.status_code == 429
    assert sign_in_by_password(right, PASSWORD).status_code == 429
    elsewhere = Client()
    sign_in_by_password(elsewhere, PASSWORD, "198.51.100.1")
    assert not is_in(right)
    assert is_in(elsewhere)


def test_a_lock_ends_after_a_quarter_of_an_hour_even_if_tried_meanwhile(village, client):
    now = timezone.now()
    for minute in range(10):
        with freeze_time(now + dt.timedelta(minutes=minute)):
            sign_in_by_password(client, "wrong password")
    with freeze_time(now + dt.timedelta(minutes=4 + 15, seconds=5)):
        sign_in_by_password(client, PASSWORD)
        assert is_in(client)


def test_a_lock_looks_alike_for_an_address_nobody_has(village):
    def fifth(email: str):
        typed = {"email": email, "password": "wrong password"}
        for _try in range(5):
            answer = Client().post(reverse("people:staff-sign-in"), typed)
        return answer.status_code, re.sub(
            rb'(csrf-token" content|middlewaretoken" value)="[^"]+', b"", answer.content
        )

    assert fifth("teacher@example.org") == fifth("nobody@example.org")


def test_wrong_passwords_leave_no_address_in_the_database(village, client):
    from axes.models import AccessAttempt

    sign_in_by_password(client, "wrong password")
    kept = str(list(AccessAttempt.objects.values()))
    assert "teacher" not in kept
    assert "wrong password" not in kept


def test_failures_are_written_down_with_ids_alone(village, client):
    sign_in_by_password(client, "wrong password")
    event = Event.objects.get(what=Event.What.SIGN_IN_FAILED)
    assert (event.kind, event.object_id) == ("people.user", village.people["teacher"].pk)
    assert "teacher@" not in str(Event.objects.values().get())


@pytest.mark.parametrize(
    ("said", "forwarded", "behind_proxy", "source"),
    [
        ("192.0.2.1", "", False, "192.0.2.1"),
        ("192.0.2.1", "203.0.113.9", False, "192.0.2.1"),
        ("10.0.0.1", "198.51.100.7, 203.0.113.9", True, "203.0.113.9"),
        ("2001:db8:1:2:3:4:5:6", "", False, "2001:db8:1:2::"),
        ("::ffff:192.0.2.1", "", False, "192.0.2.1"),
        ("", "", False, "0.0.0.0"),  # noqa: S104 - a place nobody comes from
        ("10.0.0.1", "nonsense", True, "0.0.0.0"),  # noqa: S104
    ],
)
def test_a_place_is_what_the_last_proxy_saw(said, forwarded, behind_proxy, source, settings):
    settings.BEHIND_PROXY = behind_proxy
    more = {"HTTP_X_FORWARDED_FOR": forwarded} if forwarded else {}
    assert source_of(RequestFactory().get("/", REMOTE_ADDR=said, **more)) == source


def test_letters_of_slips_cannot_be_guessed_from_one_place_for_ever(village):
    typed = {"slip": "BBBB-BBBB-BBBB-BBBB", "name": "Sam", "email": "sam@example.org"}
    statuses = [Client().post(reverse("people:come-in"), typed).status_code for _n in range(31)]
    assert statuses == [200] * 30 + [429]


def test_thirty_families_come_in_by_slip_on_one_evening_over_one_network(village):
    codes = []
    for number in range(32):
        family = Client()
        slip = Invitation.issue(village.ben, village.bens_home, village.people["office"])
        typed = {"slip": slip, "name": "Sam", "email": f"sam{number}@example.org"}
        family.post(reverse("people:come-in"), typed)
        codes.append(family.post(reverse("people:confirm"))["Location"])
    assert set(codes) == {reverse("people:code")}


def test_the_door_leads_on_to_the_page_that_was_asked_for(confirmed, client):
    page = reverse("evidence:sent")
    client.get(client.get(page)["Location"])
    ask(client, confirmed.email)
    send_waiting_codes()
    assert client.post(reverse("people:link"), {"link": mailed_link()})["Location"] == page


@pytest.mark.parametrize("elsewhere", ["https://evil.test/", "//evil.test/", "/\\evil.test/"])
def test_the_door_leads_nowhere_else(confirmed, client, elsewhere):
    client.get(reverse("people:sign-in"), {"next": elsewhere})
    ask(client, confirmed.email)
    send_waiting_codes()
    assert client.post(reverse("people:link"), {"link": mailed_link()})["Location"] == "/"
