"""Writes a framework as a package in the open CASE format 1.1, for other systems to read."""

import re
from datetime import UTC, datetime
from typing import Any
from uuid import UUID, uuid5

from .framework import Framework, Goal, Strand

SPACE = UUID("7d1c9a52-6f0e-5b7e-9c54-0d9a3f6e2b18")
IDENTIFIER = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[89ab][0-9a-f]{3}-[0-9a-f]{12}")
Record = dict[str, Any]


def write_case(framework: Framework, changed: datetime) -> Record:
    """Return *framework* as a CASE 1.1 package, strict to the published schema.

    changed: when it last changed, an aware moment; ValueError for a naive one.
    Strands stand under the document and goals under their strand, in order. Identifiers
    are the publisher's, or made from the framework's id and the code, so that two exports
    agree. Kinds travel as conceptKeywords; levels, reasons, and what a goal
    asks of the work that is to show it, as extensions.

    Source: 1EdTech CASE 1.1, getCFPackage payload: required keys, no others.
    """
    if changed.tzinfo is None:
        raise ValueError("changed must be an aware moment")
    stamp = changed.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    home = framework.id if IDENTIFIER.fullmatch(framework.id) else _made(SPACE, framework.id)
    strands = [_strand(strand, home) for strand in framework.strands]
    goals = [_goal(goal, home) for goal in framework.goals]
    document = _document(framework, home)
    under = {strand.title: node for strand, node in zip(framework.strands, strands, strict=True)}
    links = [_child(node, document, place, home) for place, node in enumerate(strands, start=1)] + [
        _child(node, under[goal.strand], place, home)
        for place, (goal, node) in enumerate(zip(framework.goals, goals, strict=True), start=1)
    ]
    licence = _licence(framework, home)
    document["licenseURI"] = _link(licence)
    for node in (document, licence, *strands, *goals, *links):
        node["lastChangeDateTime"] = stamp
    return {
        "CFDocument": document,
        "CFItems": strands + goals,
        "CFAssociations": links,
        "CFDefinitions": {"CFLicenses": [licence]},
    }


def _document(framework: Framework, identifier: str) -> Record:
    return {
        **_node(identifier),
        "creator": framework.publisher or "Not stated",
        "publisher": framework.publisher,
        "title": framework.title,
        "version": framework.edition,
        "notes": framework.notice,
        "caseVersion": "1.1",
        "extensions": {
            "source": framework.source,
            "stem": framework.stem,
            "levels": list(framework.levels),
            "judgedBy": framework.judged_by,
        },
    }


def _licence(framework: Framework, home: str) -> Record:
    return {
        **_node(_made(UUID(home), "licence")),
        "title": "Licence",
        "licenseText": framework.licence,
    }


def _strand(strand: Strand, home: str) -> Record:
    return {
        **_node(_made(UUID(home), f"strand {strand.title}")),
        "humanCodingScheme": strand.code,
        "fullStatement": strand.title,
        "CFItemType": "Strand",
    }


def _goal(goal: Goal, home: str) -> Record:
    ours = _made(UUID(home), f"goal {goal.code}")
    return {
        **_node(goal.identifier if IDENTIFIER.fullmatch(goal.identifier) else ours),
        "humanCodingScheme": goal.code,
        "fullStatement": goal.text,
        "CFItemType": "Goal",
        "conceptKeywords": list(goal.kinds),
        "notes": goal.note,
        "extensions": {"why": goal.why, "asks": goal.asks.data()},
    }


def _child(child: Record, parent: Record, place: int, home: str) -> Record:
    return {
        **_node(_made(UUID(home), f"place {child['identifier']}")),
        "associationType": "isChildOf",
        "originNodeURI": _link(child),
        "destinationNodeURI": _link(parent),
        "sequenceNumber": place,
    }


def _node(identifier: str) -> Record:
    return {"identifier": identifier, "uri": f"urn:uuid:{identifier}"}


def _link(node: Record) -> Record:
    title = node.get("title") or node["humanCodingScheme"]
    return {"title": title, "identifier": node["identifier"], "uri": node["uri"]}


def _made(space: UUID, name: str) -> str:
    return str(uuid5(space, name))
