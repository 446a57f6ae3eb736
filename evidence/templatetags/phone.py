"""What pages tell the scripts that keep things on a phone: {% load phone %}."""

from django import template
from django.utils.crypto import salted_hmac

from portal.people.asking import Asker

register = template.Library()


@register.simple_tag
def owner_mark(user: Asker) -> str:
    """Return a mark that is the same for one account and does not say which it is."""
    return salted_hmac("evidence.owner", str(user.pk), algorithm="sha256").hexdigest()[:24]
