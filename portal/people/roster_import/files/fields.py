"""What a column of a roster file can hold, and a first guess by its heading."""

import re
from collections.abc import Mapping, Sequence

from django.utils.translation import gettext as _

IGNORED = ""
FIRST, FAMILY, WHOLE = "first name", "family name", "whole name"
CLASS, NUMBER, BORN, ADDRESS = "class", "number", "born", "address"
CLOSED, CLOSED_FROM, CLOSED_TO = "closed", "closed from", "closed to"
CLOSURE = (CLOSED, CLOSED_FROM, CLOSED_TO)
SINGLE = (FIRST, WHOLE, CLASS, NUMBER, BORN, *CLOSURE)
ADULTS = (1, 2, 3, 4)


def adult(number: int, what: str) -> str:
    """Return the field of adult *number* (1 to 4): *what* is "name", "email" or "address"."""
    return f"adult {number} {what}"


FIELDS = (
    *(IGNORED, FIRST, FAMILY, WHOLE, CLASS, NUMBER, BORN, ADDRESS),
    *(adult(number, what) for number in ADULTS for what in ("name", "email", "address")),
    *CLOSURE,
)


def label(field: str) -> str:
    """Return the words for *field* that the office reads."""
    child = {
        IGNORED: _("not needed: leave it out"),
        FIRST: _("child's first name"),
        FAMILY: _("child's family name (the first letter is kept)"),
        WHOLE: _("child's whole name (first name and first letter are kept)"),
        CLASS: _("class"),
        NUMBER: _("the school's own number of the child (a mark of it is kept)"),
        BORN: _("date of birth (not kept; tells two children apart)"),
        ADDRESS: _("child's home address (not kept; tells homes apart)"),
        CLOSED: _("day or days without school: what they are called"),
        CLOSED_FROM: _("day or days without school: the first day"),
        CLOSED_TO: _("day or days without school: the last day (empty: one day)"),
    }
    if field in child:
        return child[field]
    _adult, number, what = field.split()
    words = {
        "name": _("name of adult %(number)s (not kept)"),
        "email": _("e-mail of adult %(number)s"),
        "address": _("address of adult %(number)s, if another (not kept)"),
    }
    return words[what] % {"number": number}


# Common words of such lists, from memory; none belongs to one product.
CHILD_WORDS = (
    (re.compile(r"\bupn\b|unique pupil|former upn"), IGNORED),
    (re.compile(r"phone|mobile|\btel\b|relation|title|salutation|gender|\bsex\b"), IGNORED),
    (re.compile(r"^(legal |preferred |known )?(sur|family |last )name$|^surname\b"), FAMILY),
    (re.compile(r"\b(forename|first name|given name|firstname|known as)s?\b"), FIRST),
    (re.compile(r"\b(family name|last name|lastname)\b"), FAMILY),
    (re.compile(r"\b(dob|date of birth|birth ?date|born)\b"), BORN),
    (re.compile(r"^(class|reg|registration|form|tutor)( group| name)?$|\bclass\b"), CLASS),
    (re.compile(r"\b(admission|adm|roll|pupil|student|child) (number|no|id)\b|^id$"), NUMBER),
    (re.compile(r"\b(address|street|house|town|city|post ?code|county)\b"), ADDRESS),
    (re.compile(r"^((child|pupil|student|full)( s)? )*name$|^(child|pupil|student)$"), WHOLE),
)
ADULT = re.compile(r"parent|carer|contact|guardian|adult|mother|father|mum\b|dad\b|priority")
SECOND = re.compile(r"father|dad\b")
ADULT_WORDS = (
    (re.compile(r"e ?mail"), "email"),
    (re.compile(r"address|street|house|town|city|post ?code|county"), "address"),
    (re.compile(r"phone|mobile|\btel\b|relation|title|salutation|type|order|responsib"), ""),
    (re.compile(r"name|^(parent|carer|contact|guardian|adult|mother|father|mum|dad)"), "name"),
)

CLOSURE_WORDS = re.compile(
    r"\b(holidays?|closures?|closed|half ?term|training days?|(no|without) school)\b"
)
FROM_WORDS = re.compile(r"\b(from|first|starts?|begins?|date)\b")
TO_WORDS = re.compile(r"\b(to|until|last|ends?)\b")


def plain(heading: str) -> str:
    """Return *heading* in small letters and without signs, as headings are compared."""
    return " ".join(re.sub(r"[^\w]+|_", " ", heading.casefold()).split())


def guess(heading: str) -> str:
    """Return what a column headed *heading* most likely holds; IGNORED for an unknown word."""
    words = plain(heading)
    if CLOSURE_WORDS.search(words):
        return day_of_closure(words) or CLOSED
    if ADULT.search(words):
        digit = re.search(r"[1-4]", words)
        number = int(digit[0]) if digit else 2 if SECOND.search(words) else 1
        what = next((what for sign, what in ADULT_WORDS if sign.search(words)), "")
        return adult(number, what) if what else IGNORED
    if re.search(r"e ?mail", words):
        digit = re.search(r"[1-4]", words)
        return adult(int(digit[0]) if digit else 1, "email")
    return next((field for sign, field in CHILD_WORDS if sign.search(words)), IGNORED)


def day_of_closure(words: str) -> str:
    """Return which end of a closure a heading in plain *words* is about; IGNORED for neither."""
    if TO_WORDS.search(words):
        return CLOSED_TO
    return CLOSED_FROM if FROM_WORDS.search(words) else IGNORED


def is_known(heading: str) -> bool:
    """Whether *heading* is a word that heads columns, for finding the row of headings."""
    return guess(heading) != IGNORED


def suggest(headings: Sequence[str], remembered: Mapping[str, str]) -> list[str]:
    """Return a field for each of *headings*: what the school chose last, else a guess.

    What only one column can hold is suggested for the first that seems to hold it. First and last
    day are those of closures where another column names these.
    """
    fields: list[str] = []
    names_closures = CLOSED in map(guess, headings)
    for heading in headings:
        field = remembered.get(plain(heading), guess(heading))
        if not field and names_closures:
            field = day_of_closure(plain(heading))
        fields.append(IGNORED if field in SINGLE and field in fields else field)
    return fields


def holds_children(columns: Sequence[str]) -> bool:
    """Whether any of *columns* holds children's names."""
    return FIRST in columns or WHOLE in columns


def what_is_missing(columns: Sequence[str], *, one_class: bool) -> str | None:
    """Say what else must be chosen before rows can be read; None when nothing is missing."""
    has_closures = any(field in columns for field in CLOSURE)
    if has_closures and not (CLOSED in columns and CLOSED_FROM in columns):
        return _("Choose the columns with the name and the first day of days without school.")
    if not holds_children(columns) and not has_closures:
        return _("Choose the column with the children's first names or whole names.")
    if holds_children(columns) and CLASS not in columns and not one_class:
        return _("Choose the column with the class, or the class that everybody is in.")
    for single in SINGLE:
        if columns.count(single) > 1:
            return _("Two columns cannot both be: %(what)s.") % {"what": label(single)}
    return None
