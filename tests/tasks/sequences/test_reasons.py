"""Why each part of a sequence is there: what the teacher is told beside it."""

import datetime as dt

from tasks.models import DayPlan, Task
from tasks.plans.planning import change_part
from tasks.plans.prompt_selection import Choice
from tasks.sequences.changing import swap
from tasks.sequences.layout import laid_out
from tasks.sequences.slots import Place
from tests.tasks.builders import dates_of, drafted, drafted_week, gone_out, own_part, seen, seen_now
from tests.village import MONDAY, Village

FRIDAY_BEFORE = MONDAY - dt.timedelta(days=3)


def whys(village: Village, sequence, part: str) -> list[str]:
    """Return the reasons of one part, day by day."""
    weeks = laid_out(sequence, village.robins)
    days = [day for week in weeks for day in week]
    return [each.why for day in days for each in day.parts if each.task.part == part]


def test_the_main_tasks_of_halving_say_what_is_new_and_what_is_one_step_on(village: Village):
    gone_out(drafted(village, date=FRIDAY_BEFORE))

    sequence = drafted_week(village, "halving", days=10)

    mains = [own_part(sequence, date) for date in dates_of(sequence)]
    assert [(task.kind, task.depth) for task in mains[:4]] == [
        ("sharing-equally", "with support"),
        ("halving", "with support"),
        ("halving", "with support"),
        ("halving", "core"),
    ]
    said = whys(village, sequence, "main_task")
    assert said[:5] == [
        "new",
        "new, one step on from Monday",
        "one step on from Tuesday: larger numbers",
        "one step on from Wednesday: usual",
        "one step on from Thursday: another way of asking",
    ]
    assert "one step on from Tuesday: explained" in said or "explained" in str(said)
    assert "lies beyond this year's statutory goals" in said[-1]


def test_what_was_drafted_before_and_never_set_is_nothing_to_come_back_to(village: Village):
    drafted(village, choice=Choice("halving", 20, 4, "core"), date=MONDAY)

    sequence = drafted_week(village, "sharing-equally", first=MONDAY + dt.timedelta(days=1))

    every = [why for part in Task.Part.values for why in whys(village, sequence, part)]
    assert "new" in every
    assert whys(village, sequence, "main_task")[0] == "new"


def test_what_comes_back_says_after_how_many_days(village: Village):
    sequence = drafted_week(village, "adding", known=("subitising", "one-more"))
    met: dict[str, dt.date] = {}
    for date in dates_of(sequence):
        recall = own_part(sequence, date, "quick_recall")
        said = whys(village, sequence, "quick_recall")[dates_of(sequence).index(date)]
        if recall.kind in met:
            days = (date - met[recall.kind]).days
            assert said == f"back after {days} day{'s' if days > 1 else ''}"
        else:
            assert said == "met before"
        for part in Task.Part.values:
            met[own_part(sequence, date, part).kind] = date


def test_a_kind_the_teacher_ticked_is_not_called_new(village: Village):
    assert whys(village, drafted_week(village, "one-more"), "main_task")[0] == "new"
    DayPlan.objects.all().delete()

    known = drafted_week(village, "one-more", known=("one-more",))

    assert whys(village, known, "main_task")[0] == "met before"


def test_counts_that_go_further_say_so(village: Village):
    sequence = drafted_week(village)

    counts = [own_part(sequence, date, "warm_up") for date in dates_of(sequence)]
    assert (counts[0].kind, counts[0].within, counts[2].within) == (
        "counting-aloud-in-ones",
        20,
        50,
    )
    assert whys(village, sequence, "warm_up")[2] == "further than on Tuesday"


def test_the_number_of_the_day_says_whether_the_teacher_chose_it(village: Village):
    sequence = drafted_week(village)
    task = own_part(sequence, MONDAY, "number_of_the_day")
    change_part(
        task, Choice("number-of-the-day-shown", 20, 1, "core", 7), seen(village, task.day_plan)
    )

    assert whys(village, sequence, "number_of_the_day")[:2] == [
        "you chose it",
        "another number each day",
    ]
    number = laid_out(sequence, village.robins)[0][0].parts[2].number
    assert number == 7


def test_after_a_swap_the_reasons_follow_the_new_order(village: Village):
    sequence = drafted_week(village, "adding")
    dates = dates_of(sequence)
    adding = [date for date in dates if own_part(sequence, date).kind == "adding"]
    depths = [own_part(sequence, date).depth for date in adding]
    assert (depths[0], depths[-1]) == ("with support", "challenge")

    swap(
        sequence,
        Place(adding[0], "main_task"),
        Place(adding[-1], "main_task"),
        seen_now(village, sequence),
    )

    later = whys(village, sequence, "main_task")[dates.index(adding[-1])]
    assert later == f"not as hard as on {adding[-2]:%A}: easier"


def test_a_day_with_its_own_plan_counts_as_met_and_is_no_step(village: Village):
    tuesday = MONDAY + dt.timedelta(days=1)
    other = drafted(village, choice=Choice("odd-or-even", 10, 2, "core"), date=tuesday)

    sequence = drafted_week(village, "halving")

    assert "Tuesday" not in str(whys(village, sequence, "main_task"))
    day = laid_out(sequence, village.robins)[0][1]
    assert (day.day.plan, day.is_ours, day.is_within, day.parts) == (other, False, True, [])
