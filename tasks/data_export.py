"""What this app puts into a copy of a whole school: what was set, by day."""

from collections.abc import Iterator
from typing import Any

from django.utils.translation import gettext_lazy as _

from portal.data_protection.hooks import Section
from portal.people.models import School
from tasks.models import DayPlan, OwnPrompt


def of_school(school: School) -> Iterator[Section]:
    """Yield each day plan with its parts and questions, then what teachers kept to use again."""
    plans = DayPlan.objects.filter(school_class__year__school=school)
    related = plans.select_related("school_class").prefetch_related(
        "tasks__prompts", "tasks__group"
    )
    rows = [plan_row(plan) for plan in related.order_by("date", "pk")]
    yield Section("plans", _("What was set"), rows)
    own = OwnPrompt.objects.at(school).select_related("made_by")
    yield Section("own_prompts", _("Questions teachers wrote"), [own_row(each) for each in own])


def own_row(kept: OwnPrompt) -> dict[str, Any]:
    """Return one question that a teacher wrote and kept, with what was typed for it."""
    return {"made_by": kept.made_by.name, "question": kept.sentence, "typed": kept.data}


def plan_row(plan: DayPlan) -> dict[str, Any]:
    """Return one day of one class."""
    return {
        "class": plan.school_class.name,
        "day": plan.date.isoformat(),
        "focus": plan.focus,
        "note": plan.note,
        "went_out_at": plan.goes_out_at.isoformat() if plan.goes_out_at else "",
        "parts": [
            {
                "part": task.part,
                "kind": task.kind,
                "group": task.group.name if task.group else "",
                "words": task.words,
                "questions": [prompt.sentence for prompt in task.prompts.all()],
            }
            for task in sorted(plan.tasks.all(), key=lambda task: task.position)
        ],
    }
