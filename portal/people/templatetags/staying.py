"""The question that staff are asked before their time runs out."""

from django import template

from portal.people.accounts.sessions import STAFF

register = template.Library()


@register.inclusion_tag("accounts/_stay.html", takes_context=True)
def stay_dialog(context: template.Context) -> dict[str, object]:
    """Ask, two minutes before one is signed out, whether somebody is still there."""
    minutes = int(STAFF.away.total_seconds() // 60)
    return {"idle_minutes": minutes, "csrf_token": context.get("csrf_token")}
