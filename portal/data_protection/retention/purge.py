"""Deleting what has been kept long enough, by the one table that the screens show as well."""

import datetime as dt
import logging
from dataclasses import dataclass

from portal.data_protection.hooks import Kept, keeping
from portal.data_protection.models import Leaver, PurgeRun, RetentionRule
from portal.jobs.lease import renewed
from portal.people.models import School

log = logging.getLogger("portal.data_protection")
# By the school's clock: nobody sends or looks then.
BEGINS_AT = dt.time(2)


@dataclass(frozen=True)
class Rule:
    """One kind of thing, and how long this school keeps it."""

    kept: Kept
    length: dt.timedelta


@dataclass(frozen=True)
class Due:
    """How many of a kind would be deleted."""

    rule: Rule
    count: int


def rules_of(school: School) -> list[Rule]:
    """Return how long *school* keeps what: its own choice, else what is usual."""
    own = dict(RetentionRule.objects.filter(school=school).values_list("kind", "days"))
    return [
        Rule(kept, dt.timedelta(days=own[kept.key]) if kept.key in own else kept.length)
        for kept in keeping()
    ]


def tonight(school: School, now: dt.datetime) -> list[Due]:
    """Return what would be deleted at *school* at *now*; nothing is changed."""
    return [
        Due(rule, rule.kept.due(school, rule.length, now).count())
        for rule in rules_of(school)
        if rule.kept.due
    ]


def purge(school: School, now: dt.datetime) -> dict[str, int]:
    """Delete at *school* what has been kept long enough by *now*; give how many, by kind."""
    Leaver.note(school, now.astimezone(school.zone).date())
    deleted = {}
    for rule in rules_of(school):
        if rule.kept.due:
            due = rule.kept.due(school, rule.length, now)
            deleted[rule.kept.key] = rule.kept.delete(due)
    return deleted


def purge_tonight(school: School, now: dt.datetime) -> bool:
    """Purge *school* once a night, after two by its clock; tell whether this call did it."""
    local = now.astimezone(school.zone)
    if local.time() < BEGINS_AT:
        return False
    night = PurgeRun.objects.claim(school, local.date())
    if night is None:
        return False
    try:
        with renewed(night):
            deleted = purge(school, now)
    except Exception:
        PurgeRun.objects.give_back(night)
        raise
    PurgeRun.objects.finish(night, deleted)
    log.info("night at school %s: %s things deleted", school.pk, sum(deleted.values()))
    return True
