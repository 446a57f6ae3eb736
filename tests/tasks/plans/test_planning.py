"""Planning a day: what is drawn, kept, refused and told."""

import datetime as dt

import pytest

from tasks.cards.wording import Wording
from tasks.models import DayPlan, Task
from tasks.numberwork import KINDS
from tasks.plans import planning
from tasks.plans.defaults import same_parts_as, usual_day
from tasks.plans.planning import ChangedMeanwhileError, PlanningError, Seen
from tasks.plans.prompt_selection import Choice
from tests.tasks.builders import (
    DOUBLING,
    drafted,
    empty_day,
    gone_out,
    keys,
    seen,
    send_work,
)
from tests.village import MONDAY, Village

pytestmark = pytest.mark.servers
OTHER_WORDS = Wording("Use the blue plates.", "two plates", "Is it fair?", "Plates can break.")


def fresh(plan: DayPlan) -> DayPlan:
    return DayPlan.objects.get(pk=plan.pk)


def test_a_drafted_day_has_the_usual_five_parts_with_prompts_of_the_focus(village: Village):
    planning.draft_day(
        empty_day(village), usual_day("doubling", 10), seen(village, empty_day(village)), "Doubling"
    )

    plan = DayPlan.objects.get()
    assert {task.part for task in plan.tasks.all()} == set(Task.Part.values)
    assert plan.tasks.get(part="main_task").kind == "doubling"
    assert all(task.prompts.count() == task.count for task in plan.tasks.all())
    assert (plan.focus, plan.goes_out_at, plan.version) == ("Doubling", None, 1)


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_every_kind_can_be_the_focus_of_a_day_in_every_range(village: Village, kind: str):
    for number, within in enumerate(KINDS[kind].ranges):
        plan = empty_day(village, MONDAY + dt.timedelta(weeks=number))

        planning.draft_day(plan, usual_day(kind, within), seen(village, plan))

    assert DayPlan.objects.count() == len(KINDS[kind].ranges)


def test_drafting_again_leaves_the_parts_that_are_there(village: Village):
    plan = drafted(village, "main_task")
    before = keys(plan.tasks.get())

    planning.draft_day(plan, usual_day("halving", 10), seen(village, plan))

    assert keys(plan.tasks.get(part="main_task")) == before
    assert plan.tasks.count() == 5


def test_no_prompt_is_on_a_day_twice(village: Village):
    plan = drafted(village, "main_task", "try_at_home", "quick_recall")

    drawn = [key for task in plan.tasks.all() for key in keys(task)]
    assert len(drawn) == len(set(drawn)) == 9


def test_the_next_day_does_not_repeat_the_prompts_of_the_last_while_there_are_others(
    village: Village,
):
    first = drafted(village)

    second = drafted(village, date=MONDAY + dt.timedelta(days=1))

    assert not set(keys(first.tasks.get())) & set(keys(second.tasks.get()))


def test_a_day_like_the_one_before_has_its_parts_with_other_prompts(village: Village):
    before = drafted(village, "main_task", "quick_recall")
    plan = empty_day(village, MONDAY + dt.timedelta(days=1))

    planning.draft_day(plan, same_parts_as(before), seen(village, plan))

    after = DayPlan.objects.get(date=plan.date)
    assert {task.part for task in after.tasks.all()} == {"main_task", "quick_recall"}
    main = [each.tasks.get(part="main_task") for each in (before, after)]
    assert (main[0].kind, main[0].within, main[0].depth) == (
        main[1].kind,
        main[1].within,
        main[1].depth,
    )
    assert not set(keys(main[0])) & set(keys(main[1]))


def test_a_day_like_one_of_before_asks_as_many_as_a_day_of_ten_minutes(village: Village):
    long = Choice("doubling", 10, 10, "core")
    before = drafted(village, "main_task", choice=long)
    plan = empty_day(village, MONDAY + dt.timedelta(days=1))

    planning.draft_day(plan, same_parts_as(before), seen(village, plan))

    assert DayPlan.objects.get(date=plan.date).tasks.get().count == 5


def test_redrawing_a_part_repeats_none_of_its_prompts(village: Village):
    plan = drafted(village)
    task = plan.tasks.get()
    before = keys(task)

    planning.redraw_part(task, seen(village, plan))

    assert len(keys(task)) == len(before)
    assert not set(keys(task)) & set(before)


def test_redrawing_one_prompt_leaves_the_others_and_repeats_none(village: Village):
    plan = drafted(village)
    task = plan.tasks.get()
    before = keys(task)

    planning.redraw_prompt(task, 1, seen(village, plan))

    after = keys(task)
    assert (after[0], after[2]) == (before[0], before[2])
    assert after[1] not in before


def test_another_prompt_about_the_number_of_the_day_is_about_the_same_number(village: Village):
    plan = drafted(village, choice=Choice("number-of-the-day", 10, 4, "core"))
    task = plan.tasks.get()
    number = task.prompts.first().prompt.numbers[0]

    for position in range(4):
        planning.redraw_prompt(task, position, seen(village, fresh(plan)))

    assert {row.prompt.numbers[0] for row in task.prompts.all()} == {number}
    assert len(set(keys(task))) == 4


def test_when_no_other_prompts_are_left_the_part_stays_and_the_teacher_is_told(village: Village):
    every = Choice("odd-or-even", 5, 5, "with support")
    plan = drafted(village, choice=every)
    task = plan.tasks.get()
    before = keys(task)

    with pytest.raises(PlanningError, match="Ask for fewer, or for a larger range"):
        planning.add_part(plan, "try_at_home", every, seen(village, fresh(plan)))

    assert keys(task) == before


def test_changing_a_part_draws_it_as_asked_and_its_words_follow(village: Village):
    plan = drafted(village)
    task = plan.tasks.get()

    planning.change_part(task, Choice("halving", 20, 5, "challenge"), seen(village, plan))

    task.refresh_from_db()
    assert Choice.of(task) == Choice("halving", 20, 5, "challenge")
    assert task.say == KINDS["halving"].say
    assert {row.prompt.kind for row in task.prompts.all()} == {"halving"}
    assert task.prompts.count() == 5


def test_words_a_teacher_edited_outlive_a_change_of_kind(village: Village):
    plan = drafted(village)
    task = plan.tasks.get()
    planning.reword_part(task, OTHER_WORDS, seen(village, plan))

    planning.change_part(task, Choice("halving", 10, 3, "core"), seen(village, fresh(plan)))

    task.refresh_from_db()
    assert (task.words, task.caution) == (OTHER_WORDS.words, OTHER_WORDS.caution)


def test_a_part_begins_with_the_words_of_its_kind(village: Village):
    task = drafted(village).tasks.get()

    kind = KINDS["doubling"]
    assert all(thing in task.fetch for thing in kind.fetch)
    assert (task.say, task.caution) == (kind.say, "")
    assert task.words


def test_a_locked_part_is_neither_drawn_anew_nor_removed_until_it_is_unlocked(village: Village):
    plan = drafted(village)
    task = plan.tasks.get()
    planning.lock_part(task, True, seen(village, plan))

    for action in (planning.redraw_part, planning.remove_part):
        with pytest.raises(PlanningError, match="locked"):
            action(task, seen(village, fresh(plan)))

    planning.lock_part(task, False, seen(village, fresh(plan)))
    planning.redraw_part(task, seen(village, fresh(plan)))


def test_a_removed_part_comes_back_whole(village: Village):
    plan = drafted(village, "main_task", "quick_recall")
    task = plan.tasks.get(part="main_task")
    planning.reword_part(task, OTHER_WORDS, seen(village, plan))
    before = keys(task)
    planning.remove_part(task, seen(village, fresh(plan)))
    assert not plan.tasks.filter(part="main_task").exists()

    planning.put_back(plan, seen(village, fresh(plan)))

    back = plan.tasks.get(part="main_task")
    assert keys(back) == before
    assert (back.words, Choice.of(back)) == (OTHER_WORDS.words, DOUBLING)


def test_only_the_last_change_can_be_undone(village: Village):
    plan = drafted(village, "main_task", "quick_recall")
    planning.remove_part(plan.tasks.get(part="main_task"), seen(village, plan))
    planning.redraw_part(plan.tasks.get(part="quick_recall"), seen(village, fresh(plan)))

    with pytest.raises(PlanningError, match="nothing to put back"):
        planning.put_back(plan, seen(village, fresh(plan)))


def test_a_day_that_is_set_keeps_at_least_one_part(village: Village):
    plan = gone_out(drafted(village))

    with pytest.raises(PlanningError, match="Add another part first"):
        planning.remove_part(plan.tasks.get(), seen(village, plan))


@pytest.mark.parametrize("with_answer", [True, False], ids=["with an answer", "a photo alone"])
def test_once_work_is_sent_the_prompts_stay_and_the_words_may_change(
    village: Village, with_answer: bool
):
    plan = gone_out(drafted(village))
    task = plan.tasks.get()
    send_work(village, plan, answers_to=task if with_answer else None)
    before = keys(task)

    for action in (planning.redraw_part, planning.remove_part):
        with pytest.raises(PlanningError, match="Families have sent work for this part"):
            action(task, seen(village, plan))
    planning.reword_part(task, OTHER_WORDS, seen(village, plan))

    task.refresh_from_db()
    assert (keys(task), task.words) == (before, OTHER_WORDS.words)


def test_a_part_added_after_work_came_can_still_be_changed(village: Village):
    plan = gone_out(drafted(village))
    send_work(village, plan)
    plan = drafted(village, "quick_recall")

    planning.redraw_part(plan.tasks.get(part="quick_recall"), seen(village, plan))


def test_work_that_was_withdrawn_frees_prompts_nobody_answered(village: Village):
    plan = gone_out(drafted(village))
    submission = send_work(village, plan)
    submission.withdrawn_at = submission.sent_at
    submission.save()

    planning.redraw_part(plan.tasks.get(), seen(village, plan))


def test_a_second_teachers_change_is_told_and_nothing_is_overwritten(village: Village):
    plan = drafted(village)
    task = plan.tasks.get()
    planning.reword_part(task, OTHER_WORDS, seen(village, plan, "lead"))

    with pytest.raises(ChangedMeanwhileError, match="Lead has changed this plan"):
        planning.redraw_part(task, seen(village, plan))

    task.refresh_from_db()
    assert task.words == OTHER_WORDS.words


def test_two_teachers_who_begin_an_empty_day_at_once_make_one_plan(village: Village):
    nothing = Seen(0, village.people["lead"])
    planning.add_part(empty_day(village), "main_task", DOUBLING, nothing)

    with pytest.raises(ChangedMeanwhileError):
        planning.add_part(
            empty_day(village), "main_task", DOUBLING, Seen(0, village.people["teacher"])
        )

    assert Task.objects.count() == 1


def test_an_action_that_is_refused_leaves_no_empty_plan_behind(village: Village):
    with pytest.raises(PlanningError):
        planning.put_back(empty_day(village), seen(village, empty_day(village)))

    assert not DayPlan.objects.exists()


def test_a_group_gets_its_own_version_in_place_of_the_classs(village: Village):
    plan = drafted(village, "main_task", "quick_recall")
    own = Choice("doubling", 10, 2, "with support")
    plan = drafted(village, "main_task", choice=own, group=village.bens_group)

    bens = {(task.part, task.group) for task in plan.tasks.for_child(village.ben)}
    aishas = {(task.part, task.group) for task in plan.tasks.for_child(village.aisha)}
    assert bens == {("main_task", village.bens_group), ("quick_recall", None)}
    assert aishas == {("main_task", None), ("quick_recall", None)}


def test_a_groups_task_on_one_day_takes_nothing_from_another_day(village: Village):
    tuesday = MONDAY + dt.timedelta(days=1)
    drafted(village, "main_task", group=village.bens_group)
    drafted(village, "main_task", "quick_recall", date=tuesday)
    drafted(village, "quick_recall", date=tuesday, group=village.bens_group)

    bens = Task.objects.filter(day_plan__date=tuesday).for_child(village.ben)
    assert {(task.part, task.group) for task in bens} == {
        ("main_task", None),
        ("quick_recall", village.bens_group),
    }


def test_a_child_in_two_groups_gets_each_part_once(village: Village):
    pears = village.robins.groups.create(name="Pears", depth="challenge")
    pears.children.add(village.ben)
    drafted(village, group=village.bens_group)
    plan = drafted(village, group=pears)

    assert [task.group for task in plan.tasks.for_child(village.ben)] == [village.bens_group]


def test_no_group_is_given_another_version_of_what_was_answered(village: Village):
    plan = gone_out(drafted(village))
    send_work(village, plan)

    with pytest.raises(PlanningError, match="no group can be given another"):
        planning.add_part(plan, "main_task", DOUBLING, seen(village, plan), village.bens_group)


def test_a_chosen_number_of_the_day_stays_when_the_part_is_drawn_anew(village: Village):
    plan = drafted(village, choice=Choice("number-of-the-day", 10, 4, "core", 7))
    task = plan.tasks.get()
    before = keys(task)

    planning.redraw_part(task, seen(village, plan))

    task.refresh_from_db()
    assert {row.prompt.numbers[0] for row in task.prompts.all()} == {7}
    assert not set(keys(task)) & set(before)
    assert task.number == 7


def test_what_to_use_at_home_is_another_thing_each_time_it_comes(village: Village):
    ideas = KINDS["doubling"].fetch
    said = []
    for number in range(len(ideas) + 1):
        date = MONDAY + dt.timedelta(days=number)
        plan = drafted(village, "try_at_home", choice=DOUBLING, date=date)
        said.append(plan.tasks.get().fetch)

    assert said == [*ideas, ideas[0]]


def test_words_with_one_idea_still_follow_a_change_of_kind(village: Village):
    plan = drafted(village, "try_at_home")
    task = plan.tasks.get()

    planning.change_part(task, Choice("halving", 10, 2, "core"), seen(village, plan))

    task.refresh_from_db()
    assert task.fetch in KINDS["halving"].fetch
