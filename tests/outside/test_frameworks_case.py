"""Packages against the published CASE format."""

import re
from datetime import UTC, datetime

import pytest

from assessment.frameworks import all_frameworks, read_case, write_case
from tests.assessment.frameworks.case_packages import child, item, package

CHANGED = datetime(2024, 9, 1, 8, tzinfo=UTC)
EVERY = pytest.mark.parametrize("framework", all_frameworks(), ids=lambda one: one.id)

# Source: 1EdTech CASE 1.1 final release JSON schema binding, getCFPackage payload.
PATTERN = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[8-9a-b]{1}[0-9a-f]{3}-[0-9a-f]{12}")
MOMENT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ")
LINK = ({"title", "identifier", "uri"}, set())
REQUIRED_AND_ALSO = {
    "CFDocument": (
        {"identifier", "uri", "creator", "title", "lastChangeDateTime"},
        {"officialSourceURL", "publisher", "description", "subject", "subjectURI", "language"}
        | {"version", "adoptionStatus", "statusStartDate", "statusEndDate", "licenseURI", "notes"}
        | {"frameworkType", "caseVersion", "extensions"},
    ),
    "CFItems": (
        {"identifier", "fullStatement", "uri", "lastChangeDateTime"},
        {"alternativeLabel", "CFItemType", "CFItemTypeURI", "humanCodingScheme"}
        | {"listEnumeration", "abbreviatedStatement", "conceptKeywords", "conceptKeywordsURI"}
        | {"notes", "language", "educationLevel", "licenseURI", "statusStartDate"}
        | {"statusEndDate", "subject", "subjectURI", "extensions"},
    ),
    "CFAssociations": (
        {"identifier", "associationType", "uri", "originNodeURI", "destinationNodeURI"}
        | {"lastChangeDateTime"},
        {"sequenceNumber", "CFAssociationGroupingURI", "notes", "extensions"},
    ),
    "CFLicenses": (
        {"identifier", "uri", "title", "licenseText", "lastChangeDateTime"},
        {"description", "extensions"},
    ),
}
TYPES = {"isChildOf", "isPeerOf", "isPartOf", "exactMatchOf", "precedes", "isRelatedTo"}
TYPES |= {"replacedBy", "exemplar", "hasSkillLevel", "isTranslationOf"}


def holds(record, rule):
    required, also = rule
    return required <= set(record) <= required | also


@EVERY
def test_an_export_has_the_keys_the_format_requires_and_no_others(framework):
    """Source: CASE 1.1 schema, required and additionalProperties false."""
    written = write_case(framework, CHANGED)
    assert set(written) == {"CFDocument", "CFItems", "CFAssociations", "CFDefinitions"}
    assert holds(written["CFDocument"], REQUIRED_AND_ALSO["CFDocument"])
    for part in ("CFItems", "CFAssociations"):
        assert all(holds(record, REQUIRED_AND_ALSO[part]) for record in written[part])
    licences = written["CFDefinitions"]["CFLicenses"]
    assert all(holds(record, REQUIRED_AND_ALSO["CFLicenses"]) for record in licences)


@EVERY
def test_every_part_of_an_export_has_its_own_identifier_and_moment(framework):
    """Source: CASE 1.1 schema, identifier pattern and date-time."""
    written = write_case(framework, CHANGED)
    parts = [written["CFDocument"], *written["CFItems"], *written["CFAssociations"]]
    parts += written["CFDefinitions"]["CFLicenses"]
    assert all(PATTERN.fullmatch(part["identifier"]) for part in parts)
    assert all(MOMENT.fullmatch(part["lastChangeDateTime"]) for part in parts)
    assert all(part["uri"] == f"urn:uuid:{part['identifier']}" for part in parts)
    assert len({part["identifier"] for part in parts}) == len(parts)


@EVERY
def test_every_item_of_an_export_hangs_by_one_child_link_on_a_node_that_is_there(framework):
    """Source: CASE 1.1, isChildOf: origin the child, destination an item or the document."""
    written = write_case(framework, CHANGED)
    nodes = {node["identifier"] for node in (*written["CFItems"], written["CFDocument"])}
    links = written["CFAssociations"]
    for link in links:
        assert link["associationType"] in TYPES
        assert holds(link["originNodeURI"], LINK) and holds(link["destinationNodeURI"], LINK)
        assert link["destinationNodeURI"]["identifier"] in nodes
        assert isinstance(link["sequenceNumber"], int)
    origins = [link["originNodeURI"]["identifier"] for link in links]
    assert sorted(origins) == sorted(node["identifier"] for node in written["CFItems"])


def test_the_item_with_the_lower_sequence_number_comes_first():
    """Source: the format's public sequence test, SNT.1 placed 2 and SNT.2 placed 1."""
    items = [
        item(1, "First Added Item", humanCodingScheme="SNT.1"),
        item(2, "Second added item, but should be first", humanCodingScheme="SNT.2"),
    ]
    framework = read_case(package(items, [child(1, 0, 2), child(2, 0, 1)]))
    assert [goal.code for goal in framework.goals] == ["SNT.2", "SNT.1"]


def test_of_sixteen_items_in_two_clusters_fourteen_are_goals():
    """Source: the shape of a public CASE 1.0 framework: 16 items, two of them clusters,
    16 isChildOf among 39 associations, each standard with its parts under it.
    """
    items = [item(n, f"Cluster {n}", CFItemType="Cluster") for n in (1, 2)]
    items += [item(n, f"Standard {n}", CFItemType="Standard") for n in range(3, 9)]
    items += [item(n, f"Part {n}", CFItemType="Component") for n in range(9, 17)]
    links = [child(1, 0), child(2, 0)]
    links += [child(n, 1 + n % 2) for n in range(3, 9)]
    links += [child(n, 3 + n % 6) for n in range(9, 17)]
    others = [
        child(n, 1 + n % 16, associationType=sort)
        for sort, count in [("exactMatchOf", 16), ("precedes", 3), ("exemplar", 2)]
        for n in range(1, count + 1)
    ]
    framework = read_case(package(items, others + links))
    assert len(framework.goals) == 14
    assert {goal.strand for goal in framework.goals} == {"Cluster 1", "Cluster 2"}
