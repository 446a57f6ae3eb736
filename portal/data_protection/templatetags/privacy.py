"""Parts of pages about data: {% load privacy %}."""

from django import template

from portal.data_protection.retention.durations import in_words

register = template.Library()
register.filter("in_words", in_words)
