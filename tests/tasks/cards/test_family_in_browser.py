"""An evening of a family on a small phone: card, honest answer, week, words and reminders."""

import datetime as dt

import pytest
from django.utils import timezone
from playwright.sync_api import Page, expect

from evidence.models import Submission
from evidence.reminders.choices import PushPlace, Reminder
from evidence.submissions.nonsubmissions import Nonsubmission
from tasks.models import DayPlan
from tasks.plans.planning import Seen, draft_day
from tasks.plans.prompt_selection import Choice
from tests.assessment.builders import looked
from tests.standard import faults_of
from tests.tasks.browsing import Opener
from tests.tasks.builders import drafted, gone_out
from tests.village import Village
from tests.walking import first_number

pytestmark = pytest.mark.django_db(transaction=True)
PHONE = 360
FINGER, THUMB = 56, 44  # pixels: a key for a child, a target for an adult
HALVING = Choice("halving", 20, 3, "core")
# A stand-in for the push service, which a browser without a line to it cannot subscribe to.
PUSH = """
let kept = null;
PushManager.prototype.subscribe = async function (options) {
  kept = {
    endpoint: "https://push.example/kitchen",
    options,
    unsubscribe: async () => { kept = null; },
  };
  return kept;
};
PushManager.prototype.getSubscription = async () => kept;
Notification.requestPermission = async () => "granted";
"""


@pytest.fixture
def plan(village: Village) -> DayPlan:
    """Let halving be set for today."""
    today = village.school.today()
    return gone_out(drafted(village, "main_task", choice=HALVING, date=today))


def test_one_press_says_that_it_could_not_be_done_and_one_takes_it_back_without_scripts(
    village: Village, opened: Opener, plan: DayPlan
):
    page = opened("second home", "/today/", PHONE, scripts=False)
    page.get_by_role("button", name="We could not do it today").click()

    expect(page.get_by_text("That is fine.")).to_be_in_viewport()
    page.get_by_label("Why, if you like").fill("Ill since lunch")
    page.get_by_role("button", name="Save these words").click()
    assert Nonsubmission.objects.get().reason == "Ill since lunch"
    page.get_by_role("button", name="Take this back").click()
    expect(page.get_by_role("button", name="We could not do it today")).to_be_visible()
    assert not Nonsubmission.objects.exists()


def test_the_card_and_the_answer_hold_to_the_standard(
    village: Village, opened: Opener, plan: DayPlan
):
    page = opened("second home", "/today/", PHONE)
    page.get_by_text("The whole day, for the grown-up").click()
    page.get_by_text("What right looks like").click()
    expect(page.get_by_text("5 here and 3 there.")).to_be_visible()
    assert faults_of(page) == []
    page.get_by_role("button", name="We could not do it today").click()
    expect(page.get_by_text("That is fine.")).to_be_visible()
    assert faults_of(page) == []


def test_the_first_screen_says_who_and_how_long_and_has_one_thing_to_press(
    village: Village, opened: Opener, plan: DayPlan
):
    page = opened("second home", "/today/", PHONE)
    begin = page.get_by_role("link", name="Begin")
    for seen in (page.get_by_role("heading", level=1), page.get_by_text("minutes"), begin):
        expect(seen.first).to_be_in_viewport(ratio=1)
    assert begin.bounding_box()["height"] >= THUMB


def test_every_answer_key_is_as_large_as_a_childs_finger(
    village: Village, opened: Opener, plan: DayPlan
):
    page = opened("second home", f"/children/{village.aisha.pk}/send/{plan.date}/", PHONE)
    first_number(page)
    keys = page.locator(".number-keys button")
    expect(keys).to_have_count(11)
    boxes = [keys.nth(number).bounding_box() for number in range(11)]
    assert min(box["height"] for box in boxes) >= FINGER
    assert min(box["width"] for box in boxes) >= THUMB
    assert faults_of(page) == []


def test_a_quiet_picture_says_that_work_came_and_that_it_was_answered(
    village: Village, opened: Opener, plan: DayPlan
):
    work = Submission.objects.create(
        child=village.aisha, home=village.second_home, day_plan=plan, note="Done"
    )
    page = opened("second home", f"/sent/{work.token}/", PHONE)
    expect(page.locator(".quiet svg")).to_be_visible()
    expect(page.get_by_text("It is at school now.")).to_be_visible()
    assert faults_of(page) == []
    looked(work, village.people["teacher"], reply="Fair shares on both plates")
    page.reload()
    expect(page.locator(".quiet svg")).to_be_visible()
    expect(page.get_by_text("It is at school now.")).to_have_count(0)
    assert faults_of(page) == []


def test_the_week_all_replies_and_the_words_hold_to_the_standard(
    village: Village, opened: Opener, plan: DayPlan
):
    work = Submission.objects.create(
        child=village.aisha, home=village.first_home, day_plan=plan, note="Done"
    )
    looked(work, village.people["teacher"], reply="Fair shares on both plates")
    page = opened("family", "/weeks/", PHONE)
    expect(page.get_by_role("link", name="Sent, and the teacher has looked")).to_be_visible()
    assert faults_of(page) == []
    page.get_by_role("link", name="Leaf through").first.click()
    page.get_by_role("link", name="Turn over").click()
    expect(page.get_by_text("Fair shares on both plates")).to_be_visible()
    assert faults_of(page) == []
    page.get_by_role("link", name="Words", exact=True).click()
    expect(page.get_by_role("heading", name="halve")).to_be_visible()
    assert faults_of(page) == []


def test_reminders_are_chosen_by_mail_without_scripts_and_stopped_with_one_press(
    village: Village, opened: Opener
):
    page = opened("second home", "/reminders/", PHONE, scripts=False)
    expect(page.get_by_text("This browser cannot do it, or scripts are off.")).to_be_visible()
    page.get_by_label("Remind me by mail").check()
    page.get_by_label("At what time").select_option("18:00")
    page.get_by_role("button", name="Keep this").click()
    assert Reminder.objects.get().hour == 18
    page.get_by_role("button", name="Stop all reminders").click()
    assert not Reminder.objects.exists()


def test_a_browser_is_switched_on_and_off_and_shows_the_reminder_in_the_pages_words(
    village: Village, opened: Opener
):
    page = opened("second home", "/reminders/", PHONE)
    page.context.add_init_script(PUSH)
    page.context.grant_permissions(["notifications"])
    page.reload()
    assert faults_of(page) == []
    page.get_by_role("button", name="Remind me here too").click()
    expect(page.get_by_text("It will remind you here.")).to_be_visible()
    assert PushPlace.objects.get().endpoint == "https://push.example/kitchen"
    assert shown_when_woken(page) == ["There is number work for today."]
    page.get_by_role("button", name="Stop it on this one").click()
    expect(page.get_by_text("It is stopped here.")).to_be_visible()
    assert not PushPlace.objects.exists()


def shown_when_woken(page: Page) -> list[str]:
    """Wake the browser by an empty message, as a push service does, and read what it shows."""
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    tools = page.context.new_cdp_session(page)
    registrations: list[str] = []
    tools.on(
        "ServiceWorker.workerRegistrationUpdated",
        lambda told: registrations.extend(each["registrationId"] for each in told["registrations"]),
    )
    tools.send("ServiceWorker.enable")
    deadline = timezone.now() + dt.timedelta(seconds=10)
    while not registrations and timezone.now() < deadline:
        page.wait_for_timeout(50)
    origin = page.evaluate("location.origin")
    asked = {"origin": origin, "registrationId": registrations[0], "data": ""}
    tools.send("ServiceWorker.deliverPushMessage", asked)
    page.wait_for_function(
        "async () => (await (await navigator.serviceWorker.ready).getNotifications()).length"
    )
    return page.evaluate(
        "async () => (await (await navigator.serviceWorker.ready).getNotifications())"
        ".map((each) => each.body)"
    )


@pytest.mark.parametrize("language", ["en-gb", "ar"])
def test_a_counter_has_one_size_on_the_whole_card_whatever_the_number(
    village: Village, opened: Opener, language: str
):
    parts = {"main_task": HALVING, "quick_recall": Choice("counting-amounts", 20, 4, "core")}
    day = DayPlan(school_class=village.robins, date=village.school.today())
    draft_day(day, parts, Seen(0, village.people["teacher"]))
    gone_out(DayPlan.objects.get(date=day.date))
    reader = village.people["second home"]
    reader.language = language
    reader.save()
    page = opened("second home", "/today/", PHONE)
    page.evaluate("document.querySelectorAll('details').forEach((each) => { each.open = true; })")

    dots = page.evaluate(
        "[...document.querySelectorAll('.question .question-picture circle[fill=currentColor]')]"
        ".map((dot) => Math.round(dot.getBoundingClientRect().width * 10) / 10)"
    )
    assert len(dots) > 20
    assert set(dots) == {20.0}
