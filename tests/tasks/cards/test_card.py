"""The family's card: what stands on it, who gets it, and when."""

import datetime as dt
import gzip

import pytest
from django.test import Client
from django.urls import reverse
from freezegun import freeze_time

from portal.people.models import Closure
from tasks.cards.wording import Wording
from tasks.models import DayPlan, Task
from tasks.numberwork import KINDS, how_many
from tasks.numberwork.try_at_home import TRIES
from tasks.plans import planning, setting
from tasks.plans.defaults import usual_day
from tasks.plans.prompt_selection import Choice
from tests.tasks.builders import drafted, gone_out, queries_of, seen
from tests.village import MONDAY, Village, make_child

TODAY = reverse("tasks:today")
# Bytes, packed: half of what a first visit may take, the other half being letters and looks.
ROOM_FOR_THE_PAGE = 60_000


@pytest.fixture(autouse=True)
def monday_morning():
    """Let it be Monday, eight in the morning."""
    with freeze_time("2026-11-23 08:00"):
        yield


def card_of(village: Village, child: str = "aisha", date: dt.date = MONDAY) -> str:
    return reverse("tasks:card", args=[getattr(village, child).pk, date])


def read(client: Client, address: str) -> str:
    response = client.get(address)
    assert response.status_code == 200
    return response.content.decode()


def test_each_prompt_has_its_picture_its_sentence_and_how_it_is_said(village: Village, signed_in):
    plan = gone_out(drafted(village))

    page = read(signed_in("second home"), TODAY)

    for row in plan.tasks.get().prompts.all():
        assert row.prompt.picture.svg() in page
        assert row.sentence in page
        assert f'data-speak="{row.spoken}"' in page
        assert f'data-part="{row.spoken}"' in page


def test_the_card_says_what_to_do_to_fetch_and_to_say_and_what_right_looks_like(
    village: Village, signed_in
):
    task = gone_out(drafted(village)).tasks.get()

    page = read(signed_in("second home"), TODAY)

    for words in (task.words, task.fetch, task.say, KINDS[task.kind].right):
        assert words in page
    assert "Answers, for the grown-up" in page


def test_the_cautions_that_fit_stand_on_the_card_whatever_the_teacher_wrote(
    village: Village, signed_in
):
    plan = gone_out(drafted(village))
    words = Wording("Halve a grape with a knife.", "grapes", "Is it fair?", "")
    planning.reword_part(plan.tasks.get(), words, seen(village, plan))

    page = read(signed_in("second home"), TODAY)

    assert "Check for food allergies first" in page
    assert "Only an adult cuts" in page
    assert "your child can choke on them" in page
    assert "An adult stays close by" in page


def test_nothing_a_teacher_types_becomes_markup(village: Village, signed_in):
    plan = gone_out(drafted(village))
    bad = "<script>alert(1)</script>"
    planning.reword_part(plan.tasks.get(), Wording(bad, bad, bad, bad), seen(village, plan))

    assert "<script>alert" not in read(signed_in("second home"), TODAY)


def test_families_see_nothing_before_it_goes_out(village: Village, signed_in):
    plan = drafted(village)
    sentence = plan.tasks.get().prompts.first().spoken
    family = signed_in("second home")

    assert sentence not in read(family, card_of(village))
    setting.set_day(plan, seen(village, plan), dt.datetime(2026, 11, 23, 9, tzinfo=dt.UTC))
    assert sentence not in read(family, card_of(village))
    with freeze_time("2026-11-23 09:00"):
        assert sentence in read(family, card_of(village))


def test_a_day_to_come_that_is_not_out_is_not_there_at_all(village: Village, signed_in):
    tuesday = MONDAY + dt.timedelta(days=1)
    drafted(village, date=tuesday)

    response = signed_in("second home").get(card_of(village, date=tuesday))

    assert response.status_code == 404


@pytest.mark.parametrize("role", ["other family", "foreign family", "teacher", "lead", "office"])
def test_nobody_but_the_childs_own_family_gets_the_card(village: Village, signed_in, role: str):
    gone_out(drafted(village))

    assert signed_in(role).get(card_of(village)).status_code == 404


def test_both_homes_of_a_child_get_the_card(village: Village, signed_in):
    gone_out(drafted(village))

    for role in ("family", "second home"):
        assert signed_in(role).get(card_of(village)).status_code == 200


def test_a_family_of_another_class_finds_nothing_set(village: Village, signed_in):
    plan = gone_out(drafted(village))

    page = read(signed_in("family"), card_of(village, "cal"))

    assert "Nothing is set for today." in page
    assert plan.tasks.get().prompts.first().spoken not in page


def test_a_family_with_several_children_finds_each_by_name(village: Village, signed_in):
    gone_out(drafted(village))

    page = read(signed_in("family"), TODAY)

    assert "Open Aisha’s card" in page
    assert "Cal" in page
    assert "Open Cal’s card" not in page


def test_a_child_of_a_group_gets_the_groups_task_and_not_the_classs(village: Village, signed_in):
    drafted(village)
    own = Choice("one-more", 10, 2, "with support")
    plan = gone_out(drafted(village, choice=own, group=village.bens_group))
    whole, special = (plan.tasks.get(group=group) for group in (None, village.bens_group))

    page = read(signed_in("other family"), TODAY)

    assert special.prompts.first().spoken in page
    assert whole.prompts.first().spoken not in page


def test_a_closed_day_says_why_nothing_is_set(village: Village, signed_in):
    Closure.objects.create(school=village.school, name="Half term", first=MONDAY, last=MONDAY)

    assert "School is closed: Half term." in read(signed_in("second home"), TODAY)


def test_the_last_ten_other_days_can_be_reached(village: Village, signed_in):
    days = [MONDAY - dt.timedelta(days=number) for number in range(12)]
    for day in days:
        gone_out(drafted(village, date=day))

    page = read(signed_in("second home"), TODAY)

    for day in days[1:11]:
        assert card_of(village, date=day) in page
    assert card_of(village, date=days[11]) not in page


def test_today_is_today_at_the_school_and_not_in_greenwich(village: Village, signed_in):
    village.school.time_zone = "Pacific/Auckland"
    village.school.save()
    tuesday = MONDAY + dt.timedelta(days=1)
    drafted(village, date=tuesday)

    with freeze_time("2026-11-23 12:00"):  # one in the morning on Tuesday in Auckland
        gone_out(DayPlan.objects.get())
        assert "Tuesday 24 November" in read(signed_in("second home"), TODAY)


def test_sending_is_one_press_from_the_card(village: Village, signed_in):
    gone_out(drafted(village))

    page = read(signed_in("second home"), TODAY)

    assert reverse("evidence:send", args=[village.aisha.pk, MONDAY]) in page
    assert "Send Aisha’s work" in page


def test_the_preview_shows_what_the_family_will_see(village: Village, signed_in):
    plan = drafted(village)
    preview = reverse("tasks:plan-preview", args=[village.robins.pk, MONDAY])
    before = read(signed_in("teacher"), preview)

    gone_out(plan)
    card = read(signed_in("second home"), TODAY)

    begins = '<section class="slip card-part"'
    part = card[card.index(begins) : card.index("</section>", card.rindex(begins))]
    assert part in before


def test_the_preview_of_a_group_shows_the_groups_task(village: Village, signed_in):
    drafted(village)
    own = Choice("one-more", 10, 2, "with support")
    plan = drafted(village, choice=own, group=village.bens_group)
    preview = reverse("tasks:plan-preview", args=[village.robins.pk, MONDAY])

    page = read(signed_in("teacher"), f"{preview}?group={village.bens_group.pk}")

    assert plan.tasks.get(group=village.bens_group).prompts.first().spoken in page
    assert plan.tasks.get(group=None).prompts.first().spoken not in page


def test_a_card_costs_the_same_queries_whatever_is_on_it(village: Village, signed_in):
    family = signed_in("second home")
    plan = gone_out(drafted(village))
    with_one_part = queries_of(family, TODAY)

    planning.draft_day(plan, usual_day("halving", 10), seen(village, plan))
    for number in range(1, 12):
        gone_out(drafted(village, date=MONDAY - dt.timedelta(days=number)))

    assert queries_of(family, TODAY) == with_one_part


def test_a_family_of_twelve_costs_the_queries_of_a_family_of_two(village: Village, signed_in):
    gone_out(drafted(village))
    family = signed_in("family")
    with_two = queries_of(family, TODAY)

    for number in range(10):
        child = make_child(village.robins, f"Child{number}", "K")
        village.people["family"].guardianships.create(child=child, home=village.first_home)

    assert queries_of(family, TODAY) == with_two


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_a_card_of_any_kind_stays_small(village: Village, signed_in, kind: str):
    within = max(KINDS[kind].ranges)
    count = min(12, how_many(kind, within, "core"))
    plan = gone_out(drafted(village, choice=Choice(kind, within, count, "core")))
    assert Task.objects.get(day_plan=plan).prompts.count() == count

    page = read(signed_in("second home"), TODAY)

    assert len(gzip.compress(page.encode())) < ROOM_FOR_THE_PAGE


def test_each_part_shows_a_good_try_and_a_common_slip_and_how_to_help(village: Village, signed_in):
    choice = Choice("halving", 10, 2, "core")
    gone_out(drafted(village, "main_task", choice=choice))

    page = read(signed_in("second home"), TODAY)

    fold = page[page.index("What right looks like") :]
    tries = TRIES["halving"]
    for words in ("A good try", "A common slip", "How to help without telling", tries.help):
        assert words in fold
    for each in (tries.good, tries.slip):
        assert each.picture.svg() in fold
        assert each.words in fold
    assert page.index("What right looks like") < page.index("Answers, for the grown-up")
