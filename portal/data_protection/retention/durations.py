"""Saying a length of time in words."""

import datetime as dt

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

YEAR = dt.timedelta(days=365)
DAY, HOUR, MINUTE = dt.timedelta(days=1), dt.timedelta(hours=1), dt.timedelta(minutes=1)


def in_words(length: dt.timedelta) -> str:
    """Return *length* in the largest unit that holds it whole, from minutes to years.

    >>> in_words(dt.timedelta(days=365)), in_words(dt.timedelta(minutes=10))
    ('1 year', '10 minutes')
    """
    if not length:
        return _("at once")
    if length % YEAR == dt.timedelta():
        return ngettext("%(n)d year", "%(n)d years", length // YEAR) % {"n": length // YEAR}
    if length % DAY == dt.timedelta():
        return ngettext("%(n)d day", "%(n)d days", length.days) % {"n": length.days}
    if length % HOUR == dt.timedelta():
        return ngettext("%(n)d hour", "%(n)d hours", length // HOUR) % {"n": length // HOUR}
    return ngettext("%(n)d minute", "%(n)d minutes", length // MINUTE) % {"n": length // MINUTE}
