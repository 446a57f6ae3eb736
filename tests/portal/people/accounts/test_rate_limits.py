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

from portal.people.accounts.rate_limits import place_of, source_of
from portal.people.jobs import send_waiting_codes, send_waiting_invitations
from portal.people.models import Event, Invitation, SignInCode
from tests.portal.people.proof import prove
from tests.village import PASSWORD, make_adult

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


def test_the_fourth_mail_to_an_address_from_a_browser_in_a_quarter_of_an_hour_is_refused(
    confirmed, client
):
    for email in (confirmed.email, "nobody@example.org"):
        assert [ask(client, email).status_code for _n in range(4)] == [302, 302, 302, 429]


def test_browsers_that_forget_do_not_flood_an_address_from_one_place(confirmed):
    for email in (confirmed.email, "nobody@example.org"):
        assert [ask(Client(), email).status_code for _n in range(11)] == [302] * 10 + [429]
    assert ask(Client(), confirmed.email, "198.51.100.1").status_code == 302


def test_three_strangers_who_ask_for_a_family_s_code_do_not_keep_the_family_out(confirmed):
    for number in range(3):
        ask(Client(), confirmed.email, f"203.0.113.{number}")
    for _number in range(3):
        ask(Client(), confirmed.email)
    mail.outbox.clear()
    SignInCode.objects.all().delete()
    family = Client()
    assert ask(family, confirmed.email).status_code == 302
    send_waiting_codes()
    family.post(reverse("people:link"), {"link": mailed_link()})
    assert is_in(family)


def test_eleven_families_behind_one_carrier_address_all_get_their_code(village):
    for number in range(11):
        user = make_adult(f"carrier-{number}", village.bens_home, [village.ben])
        prove(user)
        assert ask(Client(), user.email).status_code == 302
    send_waiting_codes()
    assert len({message.to[0] for message in mail.outbox}) == 11


def come_in_once(client: Client, email: str) -> None:
    """Come in by code with *client* and sign out again: the browser is known from then on."""
    ask(client, email, "198.51.100.9")
    send_waiting_codes()
    client.post(reverse("people:link"), {"link": mailed_link()})
    client.post(reverse("people:sign-out"))


def test_a_flood_from_everywhere_ends_at_the_day_s_cap_and_a_known_browser_is_let_in(confirmed):
    home = Client()
    come_in_once(home, confirmed.email)
    for email in (confirmed.email, "nobody@example.org"):
        statuses = [ask(Client(), email, f"203.0.113.{n}").status_code for n in range(31)]
        assert statuses[-1] == 429
        assert statuses[:28] == [302] * 28
    assert ask(home, confirmed.email, "203.0.113.250").status_code == 302


def test_digits_guessed_from_everywhere_die_for_a_day_and_link_and_known_browser_let_in(confirmed):
    home = Client()
    come_in_once(home, confirmed.email)
    for number in range(5):
        guesser = Client()
        ask(guesser, confirmed.email, f"203.0.113.{number}")
        for _try in range(5):
            guesser.post(reverse("people:code"), {"code": "000000"})
    for browser, way, lets_in in ((Client(), "code", False), (home, "code", True)):
        mail.outbox.clear()
        ask(browser, confirmed.email, "198.51.100.1")
        send_waiting_codes()
        digits = re.search(r"\b(\d{6})\b", mail.outbox[-1].body)[1]
        browser.post(reverse(f"people:{way}"), {"code": digits})
        assert is_in(browser) is lets_in
        browser.post(reverse("people:link"), {"link": mailed_link()})
        assert is_in(browser)


def test_five_wrong_passwords_from_the_school_s_network_do_not_keep_a_known_browser_out(village):
    own = Client()
    sign_in_by_password(own, PASSWORD)
    own.post(reverse("people:sign-out"))
    for _try in range(6):
        sign_in_by_password(Client(), "wrong password")
    assert sign_in_by_password(Client(), PASSWORD).status_code == 429
    sign_in_by_password(own, PASSWORD)
    assert is_in(own)


def test_whoever_is_shut_out_by_another_s_wrong_passwords_comes_in_by_a_mailed_link(village):
    for _try in range(5):
        sign_in_by_password(Client(), "wrong password")
    own = Client()
    page = sign_in_by_password(own, PASSWORD)
    assert reverse("people:forgotten") in page.content.decode()
    own.post(reverse("people:forgotten"), {"email": "teacher@example.org"})
    send_waiting_invitations()
    own.get(re.search(r"http://\S+(/set-password/\S+)", mail.outbox[-1].body)[1])
    new = "a quiet shoreline walk"
    own.post(reverse("people:set-password"), {"new_password1": new, "new_password2": new})
    sign_in_by_password(own, new)
    assert is_in(own)


def test_passwords_guessed_from_everywhere_end_at_the_day_s_cap_and_a_known_browser_is_let_in(
    village,
):
    own = Client()
    sign_in_by_password(own, PASSWORD)
    own.post(reverse("people:sign-out"))
    for number in range(50):
        sign_in_by_password(Client(), "wrong password", f"203.0.113.{number}")
    assert sign_in_by_password(Client(), PASSWORD, "203.0.113.99").status_code == 429
    sign_in_by_password(own, PASSWORD, "203.0.113.98")
    assert is_in(own)
    later = Client()
    with freeze_time(timezone.now() + dt.timedelta(days=1, seconds=5)):
        sign_in_by_password(later, PASSWORD, "203.0.113.99")
        assert is_in(later)


def test_an_ipv6_site_is_one_place_after_a_few_of_its_networks(db):
    def place(source: str) -> str:
        return place_of(RequestFactory().get("/", REMOTE_ADDR=source))

    seen = [place(f"2001:db8:7:{number:x}::1") for number in range(6)]
    assert seen[:3] == [
        f"2001:db8:7:{number:x}::" if number else "2001:db8:7::" for number in range(3)
    ]
    assert set(seen[3:]) == {"2001:db8:7::"}
    assert place("2001:db8:7:1::9") == "2001:db8:7::"
    assert place("2001:db8:8:1::1") == "2001:db8:8:1::"
    assert place("192.0.2.1") == "192.0.2.1"


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
    right = Invitation.issue(village.ben, village.bens_home, village.people["office"])
    holder = Client()
    holder.post(reverse("people:come-in"), {**typed, "slip": right})
    assert is_in(holder)


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
