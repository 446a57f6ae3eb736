"""Saving a look, undoing it, and two people at one piece."""

import threading

import pytest
from django.db import OperationalError, connection
from freezegun import freeze_time

from assessment.looks.looking import (
    LookData,
    LookedMeanwhileError,
    WithdrawnError,
    next_waiting,
    save_look,
    tags_to_show,
    take_back_look,
    undo_look,
)
from assessment.models import Look, Tag
from evidence.models import Submission
from tests.assessment.builders import a_moment_ago, goal, looked, send, set_day


@pytest.fixture
def work(village):
    """Give a submission of Aisha's first home."""
    return send(village.aisha, village.first_home, set_day(village.robins))


@pytest.fixture
def teacher(village):
    """Give the teacher of Robins."""
    return village.people["teacher"]


def test_saving_stores_the_words_and_the_tags_and_ends_the_waiting(work, teacher):
    halves = goal()
    saying = LookData("Both the same!", "Try 12 pegs.", {halves.pk: "independently"})
    with a_moment_ago():
        look = save_look(work, teacher, saying, seen_version=0)
    work.refresh_from_db()
    assert (look.reply, look.next_step, look.version) == ("Both the same!", "Try 12 pegs.", 1)
    assert work.looked_at is not None
    assert not work.can_be_changed
    assert [(tag.goal, tag.how, tag.by_assistant) for tag in work.tags.all()] == [
        (halves, "independently", False)
    ]


def test_an_assistants_tags_are_marked_as_the_assistants(village, work):
    looked(work, village.people["assistant"], how="with support")
    assert work.tags.get().by_assistant


def test_a_teacher_who_changes_an_assistants_tag_makes_it_their_own(village, work, teacher):
    looked(work, village.people["assistant"], how="with support")
    save_look(work, teacher, LookData(tags={goal().pk: "independently"}), seen_version=1)
    tag = work.tags.get()
    assert (tag.tagged_by, tag.by_assistant) == (teacher, False)


def test_a_tag_that_is_left_as_it_was_stays_whose_it_was(village, work, teacher):
    looked(work, village.people["assistant"], how="with support")
    save_look(work, teacher, LookData("Well shared", tags={goal().pk: "with support"}), 1)
    assert work.tags.get().tagged_by == village.people["assistant"]


def test_the_second_of_two_at_one_piece_is_told_and_overwrites_nothing(village, work, teacher):
    looked(work, village.people["assistant"], reply="From the assistant")
    with pytest.raises(LookedMeanwhileError) as told:
        save_look(work, teacher, LookData("From the teacher"), seen_version=0)
    assert told.value.look.looked_by == village.people["assistant"]
    assert Look.objects.get().reply == "From the assistant"


def test_work_that_the_family_took_back_is_not_looked_at(work, teacher):
    Submission.objects.filter(pk=work.pk).update(withdrawn_at=work.sent_at)
    with pytest.raises(WithdrawnError):
        save_look(work, teacher, LookData("Lovely"), seen_version=0)
    assert not Look.objects.exists()


def test_undoing_the_first_save_lets_the_piece_wait_and_keeps_what_was_typed(work, teacher):
    look = looked(work, teacher, reply="Too soon", how="independently")
    assert undo_look(work, look.version) is False
    work.refresh_from_db()
    assert work.looked_at is None
    assert Submission.objects.not_yet_looked_at().filter(pk=work.pk).exists()
    assert work.look.reply == "Too soon"
    assert not Tag.objects.exists()
    assert tags_to_show(work, work.look) == {goal().pk: "independently"}


def test_undoing_a_later_save_brings_the_earlier_look_back(village, work, teacher):
    looked(work, village.people["assistant"], reply="First", how="with support")
    second = save_look(work, teacher, LookData("Second", tags={goal().pk: "not yet"}), 1)
    assert undo_look(work, second.version) is True
    work.refresh_from_db()
    assert (work.look.reply, work.look.looked_by) == ("First", village.people["assistant"])
    assert work.looked_at is not None
    tag = work.tags.get()
    assert (tag.how, tag.tagged_by, tag.by_assistant) == (
        "with support",
        village.people["assistant"],
        True,
    )


def test_an_undo_can_be_undone(work, teacher):
    looked(work, teacher, reply="First")
    second = save_look(work, teacher, LookData("Second"), 1)
    undo_look(work, second.version)
    undo_look(work, second.version + 1)
    assert Look.objects.get().reply == "Second"


def test_an_old_undo_does_not_touch_what_a_colleague_saved_since(village, work, teacher):
    looked(work, teacher, reply="First")
    save_look(work, village.people["assistant"], LookData("Since"), 1)
    with pytest.raises(LookedMeanwhileError):
        undo_look(work, 1)
    assert Look.objects.get().reply == "Since"


def test_taking_back_a_changed_look_lets_the_piece_wait(work, teacher):
    looked(work, teacher, reply="First")
    second = save_look(work, teacher, LookData("Second"), 1)
    take_back_look(work, second.version)
    work.refresh_from_db()
    assert work.looked_at is None
    assert work.look.reply == "Second"


def test_saving_after_taking_back_ends_the_waiting_again(work, teacher):
    take_back_look(work, looked(work, teacher).version)
    save_look(work, teacher, LookData("Now"), seen_version=2)
    work.refresh_from_db()
    assert work.looked_at is not None


def test_the_time_of_the_first_look_stays(work, teacher):
    with freeze_time("2026-11-24 09:00"):
        looked(work, teacher)
    with freeze_time("2026-11-25 09:00"):
        save_look(work, teacher, LookData("More"), 1)
    work.refresh_from_db()
    assert work.looked_at.day == 24
    assert work.look.looked_at.day == 25


def test_next_is_what_came_after_and_then_the_oldest_of_all(village, teacher):
    plan = set_day(village.robins)
    homes = ((village.aisha, village.first_home), (village.ben, village.bens_home))
    first, second = (send(child, home, plan) for child, home in homes)
    assert next_waiting(village.robins, teacher) == first
    assert next_waiting(village.robins, teacher, after=first) == second
    assert next_waiting(village.robins, teacher, after=second) == first
    looked(first, teacher)
    assert next_waiting(village.robins, teacher, after=second) is None


def test_next_is_never_work_of_a_class_one_does_not_teach(village):
    send(village.aisha, village.first_home, set_day(village.robins))
    assert next_waiting(village.robins, village.people["other teacher"]) is None


@pytest.mark.servers
@pytest.mark.django_db(transaction=True)
def test_of_many_who_save_at_once_exactly_one_does(village):
    work = send(village.aisha, village.first_home, set_day(village.robins))
    goal()
    start = threading.Barrier(4)
    outcomes = {}

    def save(number):
        start.wait()
        while number not in outcomes:
            try:
                save_look(work, village.people["teacher"], LookData(f"Number {number}"), 0)
                outcomes[number] = "saved"
            except LookedMeanwhileError:
                outcomes[number] = "told"
            except OperationalError:  # SQLite in memory does not wait for a lock.
                continue
        connection.close()

    threads = [threading.Thread(target=save, args=[number]) for number in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(outcomes.values()) == ["saved", "told", "told", "told"]
    assert outcomes[int(Look.objects.get().reply.split()[1])] == "saved"
