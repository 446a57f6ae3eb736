"""A school whose office brings rosters in."""

import pytest

from portal.people.models import RosterRun
from portal.people.roster_import.applying import apply_run
from portal.people.roster_import.running import plan_of, start_run
from tests.village import make_school, make_staff


@pytest.fixture
def school():
    """Give a school with its year and no class yet."""
    return make_school("Gull Point", [])[0]


@pytest.fixture
def office(school):
    return make_staff("gull-office", school, "office", [])


@pytest.fixture
def bring_in(school, office):
    """Give a function that takes a file as far as its plan; `whole_school` marks it so."""

    def draft(content: bytes, **chosen) -> RosterRun:
        run = start_run(school, office, content)
        RosterRun.objects.filter(pk=run.pk).update(**chosen)
        run.refresh_from_db()
        return run

    return draft


@pytest.fixture
def run(bring_in, office):
    """Give a function that brings a file in and runs it."""

    def do(content: bytes, by_mail: bool = True, **chosen) -> RosterRun:
        draft = bring_in(content, **chosen)
        apply_run(draft, plan_of(draft).digest, by_mail=by_mail, made_by=office)
        draft.refresh_from_db()
        return draft

    return do
