"""A file on its way: brought in, its columns chosen, looked through."""

from collections.abc import Mapping, Sequence

from django.db import transaction
from django.db.models import QuerySet

from portal.people.models import RosterHabits, RosterRun, School, SchoolYear, User
from portal.people.roster_import.closures import read_closures
from portal.people.roster_import.files import fields
from portal.people.roster_import.files.reading import read
from portal.people.roster_import.files.table import Table
from portal.people.roster_import.known import known_of
from portal.people.roster_import.lines import read_lines
from portal.people.roster_import.numbers import are_upns
from portal.people.roster_import.planning import Choices, Plan, make_plan


@transaction.atomic
def start_run(school: School, made_by: User, content: bytes) -> RosterRun:
    """Keep a file that was brought in, for an hour at most, in the place of one before it.

    Raises UnreadableError.
    """
    table = read(content)
    drop(RosterRun.objects.filter(school=school, made_by=made_by))
    habits = habits_of(school)
    return RosterRun.objects.create(
        school=school,
        made_by=made_by,
        content=content,
        columns=fields.suggest(table.headings, habits.columns),
        left_out=habits.left_out,
        year=year_for(school),
    )


def drop(runs: QuerySet[RosterRun]) -> None:
    """Drop the files of those of *runs* that were not run."""
    runs.filter(state=RosterRun.State.DRAFT).update(
        state=RosterRun.State.DROPPED, content=None, answers={}
    )


def year_for(school: School) -> SchoolYear | None:
    """Return the school year that a file is most likely for: the one now, else the next."""
    return school.years.filter(ends__gte=school.today()).first()


def habits_of(school: School) -> RosterHabits:
    """Return what the school's files look like, as far as is known."""
    return RosterHabits.objects.filter(school=school).first() or RosterHabits(school=school)


def table_of(run: RosterRun) -> Table:
    """Read the file of *run* again."""
    return read(bytes(run.content))


def knows_all_columns(run: RosterRun) -> bool:
    """Whether the school has said of every heading of this file what it holds."""
    remembered = habits_of(run.school).columns
    headings = {fields.plain(heading) for heading in table_of(run).headings if heading}
    complete = fields.what_is_missing(run.columns, one_class=bool(run.one_class)) is None
    return complete and headings <= set(remembered)


def holds_upns(table: Table, columns: Sequence[str]) -> bool:
    """Whether the column chosen for the school's own number holds unique pupil numbers."""
    if fields.NUMBER not in columns:
        return False
    column = columns.index(fields.NUMBER)
    return are_upns([row.cell(column) for row in table.rows if row.cell(column)])


@transaction.atomic
def choose_columns(run: RosterRun, table: Table, columns: Sequence[str], one_class: str) -> None:
    """Keep what the columns of *run* hold, and remember it for the school's next file."""
    run.columns, run.one_class, run.answers = list(columns), one_class, {}
    run.save(update_fields=["columns", "one_class", "answers"])
    habits = habits_of(run.school)
    named = zip(table.headings, columns, strict=True)
    habits.columns |= {fields.plain(heading): field for heading, field in named if heading}
    habits.save()


@transaction.atomic
def choose(
    run: RosterRun,
    *,
    year: SchoolYear,
    whole_school: bool,
    left_out: Sequence[str],
    answers: Mapping[str, str],
) -> None:
    """Keep what the office chose for this run; which classes stay out is remembered."""
    run.year, run.whole_school = year, whole_school
    run.left_out, run.answers = sorted(left_out), dict(answers)
    run.save(update_fields=["year", "whole_school", "left_out", "answers"])
    habits = habits_of(run.school)
    here = {name.casefold() for name in class_names(run)}
    habits.left_out = sorted((set(habits.left_out) - here) | set(left_out))
    habits.save()


def class_names(run: RosterRun) -> list[str]:
    """Return the classes that the file names, each once, as first spelled."""
    lines, _problems = read_lines(table_of(run), run.columns, run.one_class)
    names: dict[str, str] = {}
    for line in lines:
        names.setdefault(line.class_name.casefold(), line.class_name)
    return sorted(names.values(), key=str.casefold)


def plan_of(run: RosterRun) -> Plan:
    """Plan what running *run* would do now."""
    lines, problems = read_lines(table_of(run), run.columns, run.one_class)
    # A file of days without school alone is no list from which every child is missing.
    whole_school = run.whole_school and fields.holds_children(run.columns)
    choices = Choices(whole_school, frozenset(run.left_out), run.answers)
    known = known_of(run.school, run.year_id)
    closures, more = read_closures(table_of(run), run.columns, known.closures)
    return make_plan(lines, [*problems, *more], known, choices, closures)
