"""Reads a framework from a package in the open CASE format, 1.0 or 1.1, made by anyone."""

import json
from collections.abc import Iterator
from itertools import count
from typing import Any

from .case_fields import Record, listed, names, records, words
from .case_tree import Placed, reading_order
from .framework import (
    JUDGED_BY,
    LONGEST_CODE,
    LONGEST_TEXT,
    LONGEST_TITLE,
    MOST_GOALS,
    Framework,
    FrameworkError,
    Goal,
    Strand,
)
from .kinds import known_kinds
from .showing.asked import Asked

MOST_BYTES = 20_000_000
MOST_ASSOCIATIONS = 10 * MOST_GOALS
# The last word of an item type that is a statement even where others stand under it.
STATEMENT_WORDS = (
    "standard benchmark indicator outcome expectation objective goal element component "
    "statement competency description descriptor"
)
STATEMENTS = tuple(STATEMENT_WORDS.split())


def read_case(data: bytes | str | Record) -> Framework:
    """Read a CASE package: a CFPackage object, bare or wrapped, as JSON or already parsed.

    Items with others under them become strands unless their CFItemType names a statement;
    all others become goals, in reading order. Keywords that are kinds of number work
    become the goal's kinds, and our own extension what it asks of work that is to show it.
    Unknown fields are passed over.
    Raises FrameworkError naming the field and what to do; at most 20 MB, 5,000 items.

    Source: 1EdTech Competencies and Academic Standards Exchange (CASE) 1.0 and 1.1.
    """
    package = _package(data)
    document = package["CFDocument"]
    items = _items(package)
    associations = records(package, "CFAssociations", MOST_ASSOCIATIONS)
    order = reading_order(document, items, associations)
    extra = _object(document, "extensions")
    title = _short(_need(document, "CFDocument", "title"))
    goals, strands = _goals(items, order, title)
    return Framework(
        id=next(names(document), "") or _need(document, "CFDocument", "identifier"),
        title=title,
        publisher=words(document, "publisher", "creator"),
        edition=words(document, "version", "adoptionStatus", "lastChangeDateTime"),
        source=words(extra, "source") or words(document, "officialSourceURL", "uri"),
        licence=_licence(package, document),
        notice=words(document, "notes")[:LONGEST_TEXT],
        stem=words(extra, "stem"),
        levels=tuple(listed(extra, "levels")),
        judged_by=extra["judgedBy"] if extra.get("judgedBy") in JUDGED_BY else "goal",
        strands=strands,
        goals=goals,
    )


def _package(data: bytes | str | Record) -> Record:
    package = _parsed(data) if isinstance(data, bytes | str) else data
    if not isinstance(package, dict):
        raise FrameworkError("the file: not an object; give a CFPackage.")
    if isinstance(package.get("CFPackage"), dict):
        package = package["CFPackage"]
    if {"lsdoc", "lsitems"} & {str(key).lower() for key in package}:
        raise FrameworkError(
            "lsDoc: this file is older than CASE 1.0 and cannot be read; "
            "ask its publisher for a CASE 1.0 or 1.1 package (CFPackage)."
        )
    if not isinstance(package.get("CFDocument"), dict):
        raise FrameworkError(
            "CFDocument: missing; give a whole package as the address CFPackages returns it."
        )
    return package


def _parsed(data: bytes | str) -> Any:
    if len(data) > MOST_BYTES:
        raise FrameworkError(f"the file: larger than {MOST_BYTES // 1_000_000} MB; give less.")
    try:
        text = data.decode("utf-8-sig") if isinstance(data, bytes) else data.lstrip("\ufeff")
        return json.loads(text)
    except (ValueError, RecursionError) as error:
        raise FrameworkError(
            "the file: not JSON in UTF-8; give a CASE package, not a page or a table."
        ) from error


def _items(package: Record) -> list[Record]:
    items: list[Record] = []
    seen: dict[str, tuple[int, str]] = {}
    for place, item in enumerate(records(package, "CFItems", MOST_GOALS)):
        where = f"CFItems[{place}]"
        statement = words(item, "fullStatement") or words(item, "abbreviatedStatement")
        if not statement:
            raise FrameworkError(f"{where}.fullStatement: missing; give the statement.")
        if len(statement) > LONGEST_TEXT:
            raise FrameworkError(
                f"{where}.fullStatement: {len(statement)} letters; the most is {LONGEST_TEXT}."
            )
        name = next(names(item), "")
        if not name:
            raise FrameworkError(f"{where}.identifier: missing; give each item its own.")
        first, before = seen.setdefault(name, (place, statement))
        if first == place:
            items.append(item)
        elif before != statement:
            raise FrameworkError(
                f"{where}.identifier: the same as CFItems[{first}]; give each item its own."
            )
    if not items:
        raise FrameworkError("CFItems: none; a package without statements cannot be used.")
    return items


def _goals(
    items: list[Record], order: list[Placed], title: str
) -> tuple[tuple[Goal, ...], tuple[Strand, ...]]:
    headings = {place.index for place in order if place.children and not _states(items, place)}
    order = [place for place in order if place.index not in headings]
    codes = _codes(items, order)
    strands: dict[str, Strand] = {}
    goals = []
    for place in order:
        over = [index for index in place.above if index in headings]
        strand = _short(": ".join(_statement(items[index]) for index in over) or title)
        own = words(items[over[-1]], "humanCodingScheme") if over else ""
        strands.setdefault(strand, Strand((own or strand)[:LONGEST_CODE], strand))
        goals.append(_goal(items[place.index], codes[place.index], strand, place.index))
    return tuple(goals), tuple(strands.values())


def _goal(item: Record, code: str, strand: str, place: int) -> Goal:
    return Goal(
        code=code,
        strand=strand,
        text=_statement(item),
        kinds=known_kinds(listed(item, "conceptKeywords")),
        why=words(_object(item, "extensions"), "why"),
        note=words(item, "notes")[:LONGEST_TEXT],
        identifier=next(names(item)),
        asks=_asked(item, f"CFItems[{place}].extensions.asks"),
    )


def _asked(item: Record, where: str) -> Asked:
    try:
        return Asked.read(_object(_object(item, "extensions"), "asks"))
    except ValueError as error:
        raise FrameworkError(f"{where}: {error}; put it right or leave it out.") from error


def _states(items: list[Record], place: Placed) -> bool:
    item = items[place.index]
    kind = words(item, "CFItemType") or words(_object(item, "CFItemTypeURI"), "title")
    return kind.lower().rstrip("s").endswith(STATEMENTS)


def _statement(item: Record) -> str:
    return words(item, "fullStatement") or words(item, "abbreviatedStatement")


def _short(title: str) -> str:
    return title if len(title) <= LONGEST_TITLE else f"{title[: LONGEST_TITLE - 1]}…"


def _codes(items: list[Record], order: list[Placed]) -> dict[int, str]:
    """Return each item its publisher's code, or its number among the goals; no code twice."""
    taken: set[str] = set()
    copies: dict[str, Iterator[str]] = {}  # by code: its variants that were not tried yet
    codes = {}
    for number, place in enumerate(order, start=1):
        wanted = words(items[place.index], "humanCodingScheme") or str(number)
        variants = copies.setdefault(wanted, _variants(wanted))
        codes[place.index] = next(code for code in variants if code not in taken)
        taken.add(codes[place.index])
    return codes


def _variants(code: str) -> Iterator[str]:
    yield code
    for number in count(2):
        yield f"{code} ({number})"


def _licence(package: Record, document: Record) -> str:
    link = document.get("licenseURI")
    wanted = set(names(link))
    for licence in records(_object(package, "CFDefinitions"), "CFLicenses", MOST_GOALS):
        if wanted & set(names(licence)):
            return words(licence, "licenseText", "title")[:LONGEST_TEXT]
    return words(link, "title", "uri") if isinstance(link, dict) else words(document, "licenseURI")


def _object(record: Record, field: str) -> Record:
    value = record.get(field)
    return value if isinstance(value, dict) else {}


def _need(record: Record, where: str, field: str) -> str:
    if text := words(record, field):
        return text
    raise FrameworkError(f"{where}.{field}: missing; give it as text.")
