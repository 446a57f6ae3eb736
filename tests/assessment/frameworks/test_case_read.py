"""Goal lists of other publishers, in the shapes they come in."""

import json
from string import printable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessment.frameworks import FrameworkError, Strand, case_read, read_case
from tests.assessment.frameworks.case_packages import (
    child,
    identifier,
    item,
    node,
    package,
)

TWO = [item(1, "Count to 10."), item(2, "Count to 20.")]


def codes(framework):
    return [goal.code for goal in framework.goals]


def texts(framework):
    return [goal.text for goal in framework.goals]


def test_goals_stand_in_the_publishers_order_not_the_files():
    framework = read_case(package(TWO, [child(1, 0, 2), child(2, 0, 1)]))
    assert texts(framework) == ["Count to 20.", "Count to 10."]


def test_ten_comes_after_nine_even_when_places_are_written_as_text():
    framework = read_case(package(TWO, [child(1, 0, "10"), child(2, 0, "9")]))
    assert texts(framework) == ["Count to 20.", "Count to 10."]


def test_goals_under_a_heading_keep_it_as_their_strand():
    items = [
        item(1, "Number", humanCodingScheme="N"),
        item(2, "Counting"),
        item(3, "Count to 10.", humanCodingScheme="N.1"),
        item(4, "Patterns"),
        item(5, "Copy a pattern.", humanCodingScheme="P.1"),
    ]
    links = [child(1, 0, 1), child(2, 1, 1), child(3, 2, 1), child(4, 0, 2), child(5, 4, 1)]
    framework = read_case(package(items, links))
    assert codes(framework) == ["N.1", "P.1"]
    assert [goal.strand for goal in framework.goals] == ["Number: Counting", "Patterns"]
    assert framework.strands[1] == Strand("Patterns", "Patterns")


def test_a_standard_with_parts_is_a_goal_and_so_are_its_parts():
    items = [
        item(1, "Count to tell how many", CFItemType="Cluster", humanCodingScheme="B"),
        item(2, "Understand counting.", CFItemType="Standard", humanCodingScheme="B.4"),
        item(3, "One name for each thing.", CFItemType="Component", humanCodingScheme="B.4a"),
    ]
    framework = read_case(package(items, [child(1, 0), child(2, 1), child(3, 2)]))
    assert codes(framework) == ["B.4", "B.4a"]
    assert framework.strands == (Strand("B", "Count to tell how many"),)


def test_an_item_nobody_placed_hangs_under_the_document_after_the_others():
    framework = read_case(package(TWO, [child(2, 0, 1)]))
    assert texts(framework) == ["Count to 20.", "Count to 10."]
    assert framework.goals[1].strand == "Invented goals"


def test_an_item_under_a_parent_of_another_package_is_not_lost():
    assert len(read_case(package(TWO, [child(1, 77), child(2, 0)])).goals) == 2


def test_an_item_placed_twice_is_one_goal():
    assert len(read_case(package(TWO, [child(1, 0), child(2, 0), child(2, 1)])).goals) == 2


@pytest.mark.parametrize(
    "links",
    [
        [child(1, 1), child(2, 2)],
        [child(1, 2), child(2, 1)],
        [child(1, 2), child(2, 3), child(3, 1)],
        [child(1, 2), child(2, 3), child(3, 2)],
    ],
)
def test_items_that_stand_under_themselves_are_still_read_once(links):
    framework = read_case(package([*TWO, item(3, "Count back.")], links))
    found = texts(framework) + [part for one in framework.strands for part in one.title.split(": ")]
    assert {"Count to 10.", "Count to 20.", "Count back."} <= set(found)
    assert len(framework.goals) == len(set(codes(framework)))


def test_other_associations_do_not_move_a_goal():
    links = [child(1, 0, 1), child(2, 0, 2), child(2, 1, 1, associationType="exactMatchOf")]
    assert len(read_case(package(TWO, links)).goals) == 2


@pytest.mark.parametrize(
    "parent",
    [
        node(0, "CFDocuments")["uri"],
        identifier(0),
        {"uri": node(0, "CFDocuments")["uri"]},
        {"identifier": identifier(0).upper()},
        f"urn:uuid:{identifier(0)}",
    ],
)
def test_a_parent_may_be_named_by_address_identifier_or_object(parent):
    links = [child(1, 0, 2, destinationNodeURI=parent), child(2, 0, 1, destinationNodeURI=parent)]
    assert texts(read_case(package(TWO, links))) == ["Count to 20.", "Count to 10."]


def test_a_wrapped_package_reads_like_a_bare_one():
    bare = package(TWO, [child(1, 0, 1), child(2, 0, 2)])
    assert read_case({"CFPackage": bare}) == read_case(bare)


def test_bytes_with_a_byte_order_mark_read_like_the_parsed_object():
    whole = package(TWO)
    assert read_case(b"\xef\xbb\xbf" + json.dumps(whole).encode()) == read_case(whole)


def test_what_a_publisher_adds_is_passed_over():
    odd = item(
        1,
        "Count.",
        educationalLevel="KG",
        subject="Maths",
        CFDocumentURI="https://case.example/d",
        conceptKeywordsURI=[],
        CFItemType=None,
        newInNextVersion={"a": [1]},
    )
    framework = read_case(
        {**package([odd], subject="Maths"), "CFPackageURI": {}, "CFRubrics": None}
    )
    assert texts(framework) == ["Count."]


def test_the_licence_is_found_by_its_link_or_read_from_it():
    licence = {**node(9, "CFLicenses"), "title": "L", "licenseText": "<p>Free to copy.</p>"}
    linked = {
        **package(TWO, licenseURI=node(9, "CFLicenses")),
        "CFDefinitions": {"CFLicenses": [licence]},
    }
    assert read_case(linked).licence == "Free to copy."
    assert read_case(package(TWO, licenseURI="https://l.example")).licence == "https://l.example"
    assert read_case(package(TWO, licenseURI={"title": "Open"})).licence == "Open"


def test_no_markup_or_script_reaches_a_goal():
    odd = item(
        1,
        "<p>Know that <b>3&lt;4</b></p><script>steal()</script>",
        notes='<img src=x onerror="steal()">Seen in <i>play</i>.',
    )
    goal = read_case(package([odd])).goals[0]
    assert goal.text == "Know that 3<4"
    assert goal.note == "Seen in play."


def test_keywords_that_are_kinds_of_work_become_the_goals_kinds():
    named = item(1, "Halve.", conceptKeywords=["halving", "fractions", "doubling", "halving"])
    barred = item(2, "Count.", conceptKeywords="subitising|counting")
    goals = read_case(package([named, barred])).goals
    assert [goal.kinds for goal in goals] == [("halving", "doubling"), ("subitising",)]


def test_goals_without_codes_are_numbered_and_twins_told_apart():
    items = [
        item(n, f"Goal {n}.", **extra)
        for n, extra in enumerate(
            [
                {},
                {"humanCodingScheme": "A"},
                {"humanCodingScheme": "A"},
                {"humanCodingScheme": " "},
            ],
            1,
        )
    ]
    assert codes(read_case(package(items))) == ["1", "A", "A (2)", "4"]


def test_five_thousand_goals_of_one_code_are_told_apart_without_trying_each_against_all(
    monkeypatch,
):
    tried = []
    variants = case_read._variants
    monkeypatch.setattr(
        case_read, "_variants", lambda code: (tried.append(it) or it for it in variants(code))
    )
    items = [item(n, f"Count to {n}.", humanCodingScheme="N") for n in range(1, 5001)]
    assert codes(read_case(package(items, [])))[::4999] == ["N", "N (5000)"]
    assert len(tried) == 5000


def test_the_same_item_written_twice_is_read_once():
    assert len(read_case(package([TWO[0], TWO[0], TWO[1]])).goals) == 2


def test_an_item_known_only_by_its_address_is_read():
    bare = {"uri": node(1)["uri"], "fullStatement": "Count."}
    assert texts(read_case(package([bare], [child(1, 0)]))) == ["Count."]


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ({"lsDoc": {}, "lsItems": []}, "older than CASE 1.0"),
        ({"LSItems": []}, "CASE 1.0 or 1.1 package"),
        (b"<html>", "not JSON"),
        (b"\xff\xfe", "not JSON"),
        ("[1]", "not an object"),
        ("[" * 200_000, "not JSON"),
        ({}, "CFDocument: missing"),
        ({"CFDocuments": []}, "CFDocument: missing"),
        (package([]), "CFItems: none"),
        (package(TWO, title=""), "CFDocument.title: missing"),
        (package(TWO, identifier=None, uri=None), "CFDocument.identifier: missing"),
        (package([item(1, " ")]), r"CFItems\[0\].fullStatement: missing"),
        (package([item(1, "n" * 4001)]), r"CFItems\[0\].fullStatement: 4001 letters"),
        (package([{"fullStatement": "Count."}]), r"CFItems\[0\].identifier: missing"),
        (package([TWO[0], {**TWO[0], "fullStatement": "Other."}]), "the same as CFItems"),
        ({**package(TWO), "CFItems": {}}, "CFItems: none"),
        ({**package(TWO), "CFItems": "x"}, "CFItems: not a list"),
        ({**package(TWO), "CFAssociations": [3]}, r"CFAssociations\[0\]: not an object"),
        (package([item(n, "Count.") for n in range(1, 5002)]), "CFItems: 5001 entries"),
        (
            package(
                [item(n, f"Goal {n}") for n in range(1, 40)],
                [child(n + 1, n) for n in range(1, 39)],
            ),
            "more than 30 deep",
        ),
        ("x" * 20_000_001, "larger than 20 MB"),
    ],
)
def test_a_package_that_cannot_be_used_is_refused_with_the_field_and_what_to_do(data, words):
    with pytest.raises(FrameworkError, match=words):
        read_case(data)


ANYTHING = st.recursive(
    st.none() | st.booleans() | st.floats() | st.text(printable, max_size=8) | st.integers(),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3)
    ),
    max_leaves=6,
)
FIELDS = (
    "identifier",
    "uri",
    "fullStatement",
    "notes",
    "conceptKeywords",
    "associationType",
    "originNodeURI",
    "destinationNodeURI",
    "sequenceNumber",
    "humanCodingScheme",
    "title",
)
NODE = st.dictionaries(st.sampled_from(FIELDS), ANYTHING | st.sampled_from(["a", "b", "isChildOf"]))


@settings(deadline=None)
@given(
    st.fixed_dictionaries(
        {"CFDocument": NODE | ANYTHING},
        optional={
            "CFItems": st.lists(NODE, max_size=5) | ANYTHING,
            "CFAssociations": st.lists(NODE, max_size=5) | ANYTHING,
            "CFDefinitions": ANYTHING,
        },
    )
)
def test_whatever_a_file_holds_it_is_read_or_refused_and_never_breaks(data):
    try:
        framework = read_case(data)
    except FrameworkError:
        return
    assert framework.goals
