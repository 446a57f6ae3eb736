"""Builders for work that came in, and looks at it."""

import datetime as dt
from contextlib import AbstractContextManager

from django.utils import timezone
from freezegun import freeze_time

from assessment.goals.goal_sets import load_frameworks
from assessment.looks.looking import LookData, save_look
from assessment.models import Goal, Look
from evidence.models import Answer, Piece, Submission
from evidence.submissions.answered import SEEN_BY_FAMILIES_AFTER
from portal.people.models import Child, Home, SchoolClass, User
from tasks.models import DayPlan, Task, TaskPrompt
from tasks.numberwork import make_prompts
from tests.village import MONDAY, Village, make_child, make_tie

PARTS = {"halving": Task.Part.MAIN_TASK, "one-more": Task.Part.QUICK_RECALL}
NINE = dt.time(9)


def at(school_class: SchoolClass, day: dt.date, time: dt.time = NINE) -> dt.datetime:
    """Return the moment at which the school's clocks show *time* on *day*."""
    return dt.datetime.combine(day, time, tzinfo=school_class.school.zone)


def set_day(
    school_class: SchoolClass, day: dt.date = MONDAY, kinds: tuple[str, ...] = ("halving",)
) -> DayPlan:
    """Set a day with one task a kind, of four prompts each; out at seven in the morning."""
    plan = DayPlan.objects.create(
        school_class=school_class,
        date=day,
        focus="Halving",
        goes_out_at=at(school_class, day, dt.time(7)),
    )
    for kind in kinds:
        task = Task.objects.create(
            day_plan=plan, part=PARTS[kind], kind=kind, within=20, count=4, seed=7
        )
        prompts = make_prompts(kind, within=20, count=4, seed=7)
        TaskPrompt.objects.bulk_create(
            TaskPrompt.of(task, place, prompt) for place, prompt in enumerate(prompts)
        )
    return plan


def send(
    child: Child, home: Home | None, plan: DayPlan, *, answers: str = "", **more: object
) -> Submission:
    """Send work for a day: "right", "doubled" (each answer is the double), or no answers.

    The help that is said of it is said of each part that is answered too.
    """
    sent_at = more.pop("sent_at", at(plan.school_class, plan.date, dt.time(17)))
    submission = Submission.objects.create(
        child=child, home=home, day_plan=plan, sent_at=sent_at, **more
    )
    for row in TaskPrompt.objects.filter(task__day_plan=plan) if answers else ():
        prompt = row.prompt
        said = prompt.answer if answers == "right" else prompt.mistakes.get(answers, "99")
        Answer.objects.create(
            submission=submission, prompt=row, text=str(said), help=submission.help
        )
    return submission


def add_photo(submission: Submission, state: str = Piece.State.READY) -> Piece:
    """Put a photo with a submission, with the row of its display copy once it is ready."""
    piece = Piece.objects.create(
        submission=submission, kind=Piece.Kind.PHOTO, state=state, sha256="0" * 64, size=1
    )
    if state == Piece.State.READY:
        for role in ("display", "thumb"):
            piece.renditions.create(
                role=role, name=f"{role} {piece.pk}", media_type="image/jpeg", size=1, sha256="0"
            )
    return piece


def goal(code: str = "ELG-NP-3") -> Goal:
    """Return a goal of the early learning goals."""
    load_frameworks()
    return Goal.objects.get(framework__slug="eyfs-elg-2021", code=code)


def a_moment_ago() -> AbstractContextManager[object]:
    """Turn the clock back so far that a family is told now of what is saved then."""
    return freeze_time(timezone.now() - SEEN_BY_FAMILIES_AFTER)


def looked(
    submission: Submission, user: User, reply: str = "Fair shares!", how: str = "", **more: str
) -> Look:
    """Look at a submission a moment ago; with *how*, tag it with the halving goal."""
    tags = {goal().pk: how} if how else {}
    with a_moment_ago():
        return save_look(submission, user, LookData(reply=reply, tags=tags, **more), seen_version=0)


def fill_class(village: Village, count: int) -> list[Child]:
    """Put *count* further children into Robins, each in the home of the other family."""
    children = [make_child(village.robins, f"Child{number}", "Z") for number in range(count)]
    for child in children:
        make_tie(village.people["other family"], child, village.bens_home)
    return children
