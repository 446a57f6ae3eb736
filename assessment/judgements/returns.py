"""The judgements of a class as a table, and under the column names of the published return.

Source of the columns: the Department for Education's own reader of Profile results
(FSP_MAT_E11 is Number, FSP_MAT_E12 Numerical Patterns). Source of the codes: 1 emerging,
2 expected, A not assessed, from memory. The school's data manager and the local authority make
the statutory return: this file is for them to read from, and is not it.
"""

from collections.abc import Mapping, Sequence

from assessment import frameworks
from assessment.judgements.units import NOT_ASSESSED, Unit
from assessment.models import Framework, Judgement
from assessment.spreadsheets import Table
from portal.people.models import Child, SchoolClass

CODES: Mapping[str, str] = {"emerging": "1", "expected": "2", NOT_ASSESSED: "A"}
COLUMNS = ("FSP_ACADYR", "CLASS", "FSP_FORENAME", "INITIAL")
RETURNED = "FSP_"
Standing = Mapping[tuple[int, str], Judgement]


def plain_table(
    name: str,
    headings: Sequence[object],
    children: Sequence[Child],
    units: Sequence[Unit],
    standing: Standing,
) -> Table:
    """Give the decisions in words, one child a line; *headings* begin with those of the child."""
    rows = [(child, *(level_of(standing, child, unit) for unit in units)) for child in children]
    return Table(name, [*headings, *(unit.title for unit in units)], rows)


def return_columns(framework: Framework) -> dict[str, str]:
    """Return by each unit's key its column of the published return; empty for other frameworks."""
    if framework.school_id is not None:
        return {}
    return {
        strand.title: strand.code
        for shipped in frameworks.all_frameworks()
        if shipped.id == framework.slug
        for strand in shipped.strands
        if strand.code.startswith(RETURNED)
    }


def return_table(
    name: str,
    school_class: SchoolClass,
    framework: Framework,
    children: Sequence[Child],
    standing: Standing,
) -> Table:
    """Return the decisions as codes under the return's columns; a cell is empty without one."""
    columns = return_columns(framework)
    year = school_class.year
    begins = f"{year.starts.year}/{year.ends.year}"
    rows = [
        (
            begins,
            school_class.name,
            child.first_name,
            child.initial,
            *(CODES.get(level_in(standing, child, key), "") for key in columns),
        )
        for child in children
    ]
    return Table(name, [*COLUMNS, *columns.values()], rows)


def level_of(standing: Standing, child: Child, unit: Unit) -> str:
    """Return the word decided on, or nothing."""
    return level_in(standing, child, unit.key)


def level_in(standing: Standing, child: Child, key: str) -> str:
    """Return the word decided on for the unit called *key*, or nothing."""
    row = standing.get((child.pk, key))
    return row.level if row else ""
