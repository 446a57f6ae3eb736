"""What a teacher is told of a set of goals before it is chosen."""

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import ngettext

from assessment.models import Framework

register = template.Library()


@register.simple_tag
def unconfirmed(framework: Framework) -> SafeString | str:
    """Say how many statements of a set are from memory; "" where each was held against a copy."""
    count = framework.unconfirmed
    if not count:
        return ""
    words = ngettext(
        "%(count)d statement is from memory, to be confirmed.",
        "%(count)d statements are from memory, to be confirmed.",
        count,
    ) % {"count": count}
    return format_html(' <b class="small">{}</b>', words)
