"""Choosing a language on a family's page, what staff know of it, and pages from right to left."""

from dataclasses import replace

import pytest
from django.conf import settings as django_settings
from django.test import Client
from django.urls import reverse
from django.utils import translation

from portal.people.languages import COOKIE, known
from portal.people.mails import sign_in_code
from portal.people.models import SignInCode
from portal.translation.languages import Catalogue
from tasks.numberwork.words import ENGLISH, LANGUAGES, from_left_to_right
from tests.tasks.builders import drafted, gone_out
from tests.village import Village

pytestmark = pytest.mark.django_db
CHOOSE, TODAY, SIGN_IN = (
    reverse(name) for name in ("people:language", "tasks:today", "people:sign-in")
)


@pytest.fixture
def offered(settings):
    """Offer Polish and Arabic beside English, whether all of them is translated or not."""
    settings.LANGUAGES = [("en-gb", "English"), ("pl", "Polski"), ("ar", "العربية")]


@pytest.mark.parametrize(
    ("asked", "given"),
    [("pl", "pl"), ("PL-pl", "pl"), ("en-US", "en-gb"), ("fr", None), ("", None), (None, None)],
)
def test_a_code_is_known_by_its_language(offered, asked, given):
    assert known(asked) == given


def test_a_family_changes_the_language_in_place_and_keeps_it(offered, village: Village, signed_in):
    family = signed_in("family")
    page = family.get(TODAY).content.decode()
    assert f'action="{CHOOSE}"' in page
    assert (
        '<button class="button button-plain" name="language" value="ar" lang="ar" dir="rtl">'
        in page
    )

    response = family.post(CHOOSE, {"language": "ar", "next": f"{TODAY}?a=1"})

    assert response.headers["Location"] == f"{TODAY}?a=1"
    village.people["family"].refresh_from_db()
    assert village.people["family"].language == "ar"
    page = family.get(TODAY).content.decode()
    assert '<html lang="ar" dir="rtl">' in page
    elsewhere = Client(headers={"accept-language": "pl"})
    elsewhere.force_login(village.people["family"])
    assert elsewhere.get(TODAY).headers["Content-Language"] == "ar"


@pytest.mark.parametrize(
    "back",
    ["https://elsewhere.example/", "//elsewhere.example", "", "\\\\x", "yes", "-1", "home:none"],
)
def test_the_way_back_leads_nowhere_else(offered, village: Village, signed_in, back: str):
    response = signed_in("family").post(CHOOSE, {"language": "pl", "next": back})

    assert response.headers["Location"] == reverse("home")


def test_a_visitor_s_choice_stays_in_the_browser_before_what_it_accepts(offered):
    visitor = Client(headers={"accept-language": "fr, ar;q=0.8, pl;q=0.5"})
    assert visitor.get(SIGN_IN).headers["Content-Language"] == "ar"

    response = visitor.post(CHOOSE, {"language": "pl", "next": SIGN_IN})

    cookie = response.cookies[COOKIE]
    assert (cookie.value, cookie["httponly"], cookie["samesite"]) == ("pl", True, "Lax")
    page = visitor.get(SIGN_IN)
    assert page.headers["Content-Language"] == "pl"
    assert {"Accept-Language", "Cookie"} <= set(page.headers["Vary"].split(", "))


def test_a_language_that_is_not_offered_is_not_taken(village: Village, signed_in):
    assert signed_in("family").post(CHOOSE, {"language": "xx"}).status_code == 400


def test_staff_read_english_whatever_they_accept(offered, village: Village):
    teacher = Client(headers={"accept-language": "pl"})
    village.people["teacher"].language = "pl"
    village.people["teacher"].save()
    teacher.force_login(village.people["teacher"])

    page = teacher.get(reverse("people:classes"))
    assert page.headers["Content-Language"] == "en-gb"
    assert CHOOSE not in page.content.decode()
    door = Client(headers={"accept-language": "pl"}).get(reverse("people:staff-sign-in"))
    assert '<html lang="en-gb"' in door.content.decode()
    assert CHOOSE not in door.content.decode()


def test_a_mail_is_in_the_language_of_who_gets_it(offered, village: Village, monkeypatch):
    said: list[str | None] = []
    real = translation._trans.gettext
    monkeypatch.setattr(
        translation._trans,
        "gettext",
        lambda message: (said.append(translation.get_language()), real(message))[1],
    )
    family = village.people["family"]
    family.language = "pl"

    sign_in_code(SignInCode.ask(family, "browser"))

    assert set(said) == {"pl"}


@pytest.mark.parametrize(
    ("checked_by", "words"), [("nobody yet", "Not yet checked"), ("A. B.", "Checked by A. B.")]
)
def test_lead_and_office_read_who_has_checked_a_language(
    village: Village, signed_in, monkeypatch, checked_by: str, words: str
):
    monkeypatch.setattr(
        "portal.people.accounts.views.languages.catalogue",
        lambda code: Catalogue(code, True, checked_by),
    )
    for role in ("lead", "office"):
        page = signed_in(role).get(reverse("people:languages")).content.decode()
        assert page.count(words) == 6
        assert '<bdi class="soft" lang="ur" dir="rtl">اردو</bdi>' in page


@pytest.mark.parametrize("checked_by", ["nobody yet", "A. B."])
def test_families_read_that_nobody_has_checked_it(
    offered, village: Village, signed_in, monkeypatch, checked_by: str
):
    monkeypatch.setattr(
        "portal.templatetags.language.catalogue", lambda code: Catalogue(code, True, checked_by)
    )
    page = signed_in("family").get(TODAY).content.decode()
    assert ("Nobody who speaks this language" in page) == (checked_by == "nobody yet")


ARABIC_WORDS = "المجموع الكامل للأشياء الموجودة في السلة على الطاولة"


@pytest.fixture
def arabic(monkeypatch, village: Village, offered) -> Village:
    """Return number work long words from right to left, and a card of today in them."""
    sentence = from_left_to_right(f"{ARABIC_WORDS} {{0}} + {{0}} = □")
    words = replace(
        ENGLISH,
        language="ar",
        written={f"doubling/{form}": sentence for form in ("double", "add the same", "unknown")},
        spoken={f"doubling/{form}": ARABIC_WORDS for form in ("double", "add the same", "unknown")},
        right_to_left=True,
    )
    words = replace(
        words,
        written={**words.written, "doubling/equals first": "□ = {0} + {0}"},
        spoken={**words.spoken, "doubling/equals first": ARABIC_WORDS},
    )
    monkeypatch.setitem(LANGUAGES, "ar", words)
    gone_out(drafted(village, date=village.school.today()))
    for role in ("family", "second home"):
        village.people[role].language = "ar"
        village.people[role].save()
    return village


FAMILY_PAGES = (
    "tasks:today",
    "evidence:sent",
    "assessment:this-week",
    "people:account",
    "privacy:family",
)


@pytest.mark.parametrize("name", FAMILY_PAGES)
def test_pages_from_right_to_left_fit_a_small_phone(
    arabic: Village, browser, live_server, name: str
):
    page = opened(arabic, browser, live_server, reverse(name))
    width = page.evaluate("[document.documentElement.scrollWidth, innerWidth, document.dir]")
    assert width[0] <= width[1] == 360 and width[2] == "rtl"


def test_sentences_of_numbers_run_from_the_left_and_the_control_is_large(
    arabic: Village, browser, live_server
):
    page = opened(arabic, browser, live_server, TODAY)
    page.locator(".card-whole > summary").click()
    directions = page.eval_on_selector_all(
        ".question-sentence",
        "all => all.map(one => [getComputedStyle(one).direction, /[ء-ي]/.test(one.textContent)])",
    )
    assert directions and all((direction == "rtl") == has for direction, has in directions)
    summary = page.locator(".language-choice summary")
    summary.click()
    for box in [summary.bounding_box()] + [
        button.bounding_box() for button in page.locator(".language-choice button").all()
    ]:
        assert box["height"] >= 44
    page.locator('.language-choice button[value="en-gb"]').click()
    assert page.locator("html").get_attribute("dir") == "ltr"
    assert page.url.endswith(TODAY)


@pytest.mark.parametrize("name", FAMILY_PAGES)
def test_the_language_is_changed_from_the_top_bar_in_two_presses_without_scripts(
    arabic: Village, browser, live_server, name: str
):
    page = opened(arabic, browser, live_server, reverse(name), scripts=False, width=320)
    at = page.url
    choice = page.locator(".page-top .language-choice")
    assert choice.locator("summary bdi").inner_text() == "العربية"
    choice.locator("summary").click()
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    choice.locator('button[value="pl"]').click()
    assert page.url == at
    assert page.locator("html").get_attribute("lang") == "pl"


def test_arabic_letters_are_fetched_where_they_stand_and_nowhere_else(
    arabic: Village, browser, live_server
):
    fetched = """async () => { await document.fonts.ready; return [...document.fonts].filter(
        face => face.family.includes("Arabic") && face.status === "loaded").length; }"""
    page = opened(arabic, browser, live_server, TODAY)
    assert page.evaluate(fetched) > 0
    page.locator(".language-choice summary").click()
    page.locator('.language-choice button[value="en-gb"]').click()
    assert page.locator("html").get_attribute("lang") == "en-gb"
    assert page.evaluate(fetched) == 0


def opened(
    village: Village, browser, live_server, address: str, scripts: bool = True, width: int = 360
):
    """Open *address* as the second home, on a phone so many pixels wide."""
    client = Client()
    client.force_login(village.people["second home"])
    context = browser.new_context(
        viewport={"width": width, "height": 740}, java_script_enabled=scripts
    )
    name = django_settings.SESSION_COOKIE_NAME
    context.add_cookies(
        [{"name": name, "value": client.cookies[name].value, "url": live_server.url}]
    )
    page = context.new_page()
    page.goto(f"{live_server.url}{address}")
    return page
