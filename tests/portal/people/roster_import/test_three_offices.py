"""Files of three made-up school offices, each with mistakes in it: what every row gets."""

import pytest

from portal.people.models import Child, RosterRun
from portal.people.roster_import.applying import ChangedSinceError, apply_run
from portal.people.roster_import.running import plan_of
from portal.people.roster_import.words import fates
from tests.portal.people.roster_import.roster_files import (
    HARBOUR,
    ROWS_OF_CONTACTS,
    SMALL,
    contacts,
    harbour,
    row,
    small,
)

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
Told = list[tuple[str, str, str, tuple[str, ...]]]
INVITED = "new adult, invited by mail"


def told(draft: RosterRun) -> Told:
    """Return rows, child, what happens and what of the adults, as the office reads them."""
    return [(fate.rows, fate.name, fate.words, fate.adults) for fate in fates(plan_of(draft))]


FIRST: Told = [
    ("4", "Aisha K", "new child", (
        f"mum.kestrel@example.org: {INVITED}", f"dad.kestrel@example.org: {INVITED}",
        "2 homes, apart")),
    ("5", "Ben T", "new child", (
        f"tern@example.org: {INVITED}", f"tern.too@example.org: {INVITED}")),
    ("6", "Cal K", "new child", (f"mum.kestrel@example.org: {INVITED}",)),
    ("7", "Dora F", "new child", ("1 adult without e-mail address: print a slip",)),
]  # fmt: skip
SECOND: Told = [
    ("2, 3", "Zoë M", "new child", (
        f"a.mueller@example.org: {INVITED}", f"b.mueller@example.org: {INVITED}")),
    ("4, 5", "Finn O", "new child", (
        f"c@example.org: {INVITED}", f"d@example.org: {INVITED}", "2 homes, apart")),
]  # fmt: skip
THIRD: Told = [
    ("2", "Mina A", "new child", (
        f"mina.one@example.org: {INVITED}", f"mina.two@example.org: {INVITED}",
        "2 homes, apart")),
    ("3", "Tobi B", "new child", (f"tobi@example.org: {INVITED}",)),
    ("4", "Tam B", "new child", (f"tobi@example.org: {INVITED}",)),
]  # fmt: skip


@pytest.mark.parametrize(
    ("content", "expected"),
    [(harbour(), FIRST), (contacts(), SECOND), (small(), THIRD)],
    ids=["one row a child", "one row a contact", "small"],
)
def test_every_row_of_a_good_file_is_told_with_its_adults(bring_in, content, expected):
    assert told(bring_in(content)) == expected


WRONG_FIRST = [
    *HARBOUR[:1],
    row(1, DOB="31/02/2022"),
    row(2, Reg_group=""),
    row(3, Forename="", Parent_1_email="not an address"),
    row(0),
]
WRONG_SECOND = [
    *ROWS_OF_CONTACTS[:3],
    ("O’Neill, Finn", "17.03.2022", "Robins", "C. O’Neill", "c at example.org", "8 Dale End"),
    ("O’Neill, Finn", "17.03.2022", "Wrens", "D. Ryan", "d@example.org", "3 Brook Row"),
]
WRONG_THIRD = [*SMALL[:2], ("", "Robins", "tobi@example.org", ""), ("Tam B", "", "", "")]


ROW_BY_ROW = {
    "one row a child": (harbour(WRONG_FIRST), [
        ("5", "problem", "Row 5, column D: “31/02/2022” is not a date: the day comes first, as in "
         "25/9/2021."),
        ("6", "problem", "Row 6, column E: the class is missing. Fill it in, or delete the row."),
        ("7", "problem", "Row 7, column B: the child's first name is missing. Fill it in."),
        ("7", "problem", "Row 7, column I: “not an address” is not an e-mail address."),
        ("4, 8", "new", "new child"),
    ]),
    "one row a contact": (contacts(WRONG_SECOND), [
        ("4", "problem", "Row 4, column E: “c at example.org” is not an e-mail address."),
        ("2, 3", "new", "new child"),
        ("5", "new", "new child"),
    ]),
    "small": (small(WRONG_THIRD), [
        ("3", "problem", "Row 3: the child's first name is missing. Fill it in."),
        ("4", "problem", "Row 4, column B: the class is missing. Fill it in, or delete the row."),
        ("2", "new", "new child"),
    ]),
}  # fmt: skip


@pytest.mark.parametrize("shape", ROW_BY_ROW)
def test_every_row_with_a_mistake_is_told_what_to_mend_and_nothing_is_done(bring_in, office, shape):
    content, expected = ROW_BY_ROW[shape]
    draft = bring_in(content)
    plan = plan_of(draft)
    assert [(fate.rows, fate.kind, fate.words) for fate in fates(plan)] == expected
    assert plan.is_blocked
    with pytest.raises(ChangedSinceError):
        apply_run(draft, plan.digest, by_mail=True, made_by=office)
    assert not Child.objects.exists()
