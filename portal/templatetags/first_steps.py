"""The strip of first steps: {% load first_steps %}{% first_steps %}."""

from django import template

from portal.guide.steps import Step, steps_for

register = template.Library()
START_PAGES = {"people:classes", "assessment:queue", "tasks:today"}


@register.inclusion_tag("components/first_steps.html", takes_context=True)
def first_steps(context: template.Context) -> dict[str, object]:
    """Show the first steps of who is signed in, on the page that they start from."""
    request = context.get("request")
    match = getattr(request, "resolver_match", None)
    steps: list[Step] = []
    if match and match.view_name in START_PAGES and request.user.is_authenticated:
        steps = steps_for(request.user)
    done = sum(step.done for step in steps)
    return {"steps": steps, "done": done, "csrf_token": context.get("csrf_token")}
