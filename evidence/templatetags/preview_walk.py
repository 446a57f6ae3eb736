"""The walk through a day as a teacher sees it before families do: {% load preview_walk %}."""

from collections.abc import Iterable

from django import template

from evidence.uploads.forms import SendForm
from evidence.uploads.questions import prompts_of
from evidence.uploads.walk import make_walk
from tasks.cards.languages import ENGLISH
from tasks.models import DayPlan, Task

register = template.Library()


@register.inclusion_tag("uploads/_preview_walk.html")
def preview_walk(plan: DayPlan, tasks: Iterable[Task]) -> dict[str, object]:
    """Lay *plan* out for the reader of *tasks* as families walk through it; nothing can be sent."""
    of_reader = list(tasks)
    return {"walk": make_walk(plan, of_reader, SendForm(prompts_of(of_reader)), ENGLISH)}
