"""Parts of pages about data: {% load privacy %}."""

from django import template

from portal.privacy.lengths import in_words

register = template.Library()
register.filter("in_words", in_words)
