"""Builds small CASE packages, as other people would write them."""

HOME = "https://case.example/ims/case/v1p0"
WHEN = "2024-09-01T08:00:00Z"


def identifier(number):
    return f"{number:08x}-0000-4000-8000-000000000000"


def node(number, sort="CFItems"):
    return {"identifier": identifier(number), "uri": f"{HOME}/{sort}/{identifier(number)}"}


def item(number, statement, **fields):
    return {
        **node(number),
        "fullStatement": statement,
        "lastChangeDateTime": WHEN,
        **fields,
    }


def child(number, parent, place=None, **fields):
    """Say that item *number* stands under item *parent*; 0 is the document."""
    link = {
        **node(1000 + number, "CFAssociations"),
        "associationType": "isChildOf",
        "originNodeURI": {"title": "x", **node(number)},
        "destinationNodeURI": {
            "title": "x",
            **node(parent, "CFItems" if parent else "CFDocuments"),
        },
        "lastChangeDateTime": WHEN,
        **fields,
    }
    return link if place is None else {**link, "sequenceNumber": place}


def package(items, associations=(), **document):
    return {
        "CFDocument": {
            **node(0, "CFDocuments"),
            "creator": "Invented Curriculum Office",
            "title": "Invented goals",
            "lastChangeDateTime": WHEN,
            **document,
        },
        "CFItems": list(items),
        "CFAssociations": list(associations),
    }
