"""Before a day is set its teacher walks through it as families will, screen by screen."""

from django.urls import reverse

from tasks.plans import planning
from tasks.plans.defaults import usual_day
from tasks.plans.prompt_selection import Choice
from tests.tasks.builders import drafted, empty_day, gone_out, queries_of, seen
from tests.village import MONDAY, Village


def a_day(village: Village):
    plan = empty_day(village)
    planning.draft_day(plan, usual_day("doubling", 10), seen(village, plan))
    return village.robins.day_plans.get()


def preview_of(village: Village, client, more: str = "") -> str:
    address = reverse("tasks:plan-preview", args=[village.robins.pk, MONDAY])
    response = client.get(address + more)
    assert response.status_code == 200
    return response.content.decode()


def screens(page: str) -> list[str]:
    """Return the names of the screens of a page, in order."""
    begun = [each.split('id="')[1] for each in page.split('<section class="step')[1:]]
    return [each.partition('"')[0] for each in begun]


def test_the_screens_are_those_that_families_get(village: Village, signed_in):
    plan = gone_out(a_day(village))
    walk = reverse("evidence:send", args=[village.aisha.pk, MONDAY])

    theirs = screens(signed_in("second home").get(walk).content.decode())
    ours = screens(preview_of(village, signed_in("teacher")))

    assert ours == theirs
    answered = sum(task.prompts.count() for task in plan.tasks.all())
    assert len(ours) == answered + 2


def test_nothing_can_be_sent_from_it(village: Village, signed_in):
    a_day(village)

    page = preview_of(village, signed_in("teacher"))

    walk = page[page.index('class="preview-walk"') : page.index("card-whole")]
    assert "<form" not in walk
    assert "data-send-button" not in walk
    assert 'aria-disabled="true"' in walk


def test_the_whole_day_is_folded_away_below_it(village: Village, signed_in):
    a_day(village)

    page = preview_of(village, signed_in("teacher"))

    assert page.index('class="preview-walk"') < page.index('<details class="card-whole">')
    assert page.index('<details class="card-whole">') < page.index("card-part")


def test_a_group_walks_through_its_own_version(village: Village, signed_in):
    drafted(village)
    own = Choice("one-more", 10, 2, "with support")
    plan = drafted(village, choice=own, group=village.bens_group)

    page = preview_of(village, signed_in("teacher"), f"?group={village.bens_group.pk}")

    walk = page[page.index('class="preview-walk"') : page.index("card-whole")]
    assert plan.tasks.get(group=village.bens_group).prompts.first().spoken in walk
    assert plan.tasks.get(group=None).prompts.first().spoken not in walk


def test_it_costs_the_same_queries_whatever_is_on_the_day(village: Village, signed_in):
    teacher = signed_in("teacher")
    drafted(village)
    address = reverse("tasks:plan-preview", args=[village.robins.pk, MONDAY])
    before = queries_of(teacher, address)

    plan = village.robins.day_plans.get()
    planning.draft_day(plan, usual_day("halving", 10), seen(village, plan))

    assert queries_of(teacher, address) == before
