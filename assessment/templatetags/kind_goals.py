"""Which goals a kind of number work shows, on pages that know no goals: {% load kind_goals %}."""

from django import template

from assessment.goals.goal_sets import framework_of
from assessment.models import Framework, Goal
from portal.people.models import SchoolClass

register = template.Library()


@register.simple_tag(takes_context=True)
def goals_shown_by(context: template.Context, kind: str) -> list[tuple[Framework, list[Goal]]]:
    """Give each set of goals that the reader's classes are tagged against, with those of *kind*."""
    taught = SchoolClass.objects.taught_by(context["request"].user)
    classes = taught.select_related("class_framework__framework")
    sets = {framework.pk: framework for framework in map(framework_of, classes)}
    found: dict[int, list[Goal]] = {key: [] for key in sets}
    for goal in Goal.objects.in_use().filter(framework__in=sets):
        if kind in goal.kinds:
            found[goal.framework_id].append(goal)
    return [(framework, found[key]) for key, framework in sets.items()]
