"""What an older program kept (a kind, a mistake, a picture) breaks no page of a newer one."""

from collections.abc import Callable

import pytest
from django.db import transaction
from django.test import Client

from assessment.models import Goal, MistakesFound, WeekSummary
from assessment.weekly.summaries import make_summary
from evidence.models import Submission
from portal.people.models import SchoolClass
from tasks.models import Sequence, Task, TaskPrompt
from tests.access.scene import Scene, routes
from tests.assessment.builders import at

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
ASKING = ("family", "teacher", "assistant", "lead")
GONE = "moons-and-stars"


def kinds_gone(_scene: Scene) -> None:
    """Keep all work as a kind, of a form, with mistakes and a picture, that no program knows."""
    Task.objects.update(kind=GONE)
    Sequence.objects.update(focus=GONE)
    Goal.objects.update(kinds=[GONE, "halving"])
    for row in TaskPrompt.objects.all():
        row.data |= {"kind": GONE, "form": "by moonlight", "picture": {"picture": "Moon", "n": 1}}
        row.data["mistakes"] = dict.fromkeys(["took the moon"], 99)
        row.save()
    found_then([[GONE, ["took the moon"], ["took the moon"]]])


def mistakes_gone(_scene: Scene) -> None:
    """Keep a mistake that its kind shows no more."""
    for row in TaskPrompt.objects.all():
        row.data["mistakes"] = dict.fromkeys(["took the moon"], 99)
        row.save()
    found_then([["halving", ["took the moon"], ["took the moon"]]])


def rows_broken(_scene: Scene) -> None:
    """Leave nothing of what was kept of each prompt but its sentence."""
    TaskPrompt.objects.update(data={})
    found_then([["halving"]])


def found_then(tasks: list) -> None:
    """Keep *tasks* as what was found in every piece, and a mistake and a goal as the week's."""
    for work in Submission.objects.filter(looked_at__isnull=False):
        MistakesFound.objects.update_or_create(
            submission=work, defaults={"looked_at": work.looked_at, "tasks": tasks}
        )
    for row in WeekSummary.objects.filter(audience="staff"):
        row.figures |= {"gone": {"took the moon": 2}, "goals": {"NO-SUCH": 1}}
        row.save()


@pytest.fixture(params=[kinds_gone, mistakes_gone, rows_broken])
def scene(request, db) -> Scene:
    """Set the scene, its week summed up, and age what it keeps."""
    scene = Scene.build()
    answers_everywhere(scene)
    make_summary(scene.arguments["class_pk"], scene.arguments["week"])
    age: Callable[[Scene], None] = request.param
    age(scene)
    return scene


def answers_everywhere(scene: Scene) -> None:
    """Have each piece that was sent answer every prompt of its day with 99, and be looked at."""
    school_class = SchoolClass.objects.get(pk=scene.arguments["class_pk"])
    for plan in school_class.day_plans.all():
        for work in plan.submissions.all():
            work.answers.all().delete()
            work.sent_at = work.looked_at = at(school_class, plan.date)
            work.save()
            for row in TaskPrompt.objects.filter(task__day_plan=plan):
                work.answers.create(prompt=row, text="99")


def test_every_page_opens_whatever_the_program_knows_no_more(scene):
    broken = [
        (role, name, method)
        for role in ASKING
        for name in routes()
        for method in ("GET", "POST")
        if ask(scene, role, name, method) >= 500
    ]
    assert broken == []


def ask(scene: Scene, role: str, name: str, method: str) -> int:
    """Return the status that *role* gets, the body read to its end, and undo what was done."""
    client = Client(raise_request_exception=False)
    with transaction.atomic():
        client.force_login(scene.village.people[role])
        answer = client.generic(method, scene.address(name))
        if answer.streaming:
            b"".join(answer.streaming_content)
        transaction.set_rollback(True)
    return answer.status_code
