"""The labels of a page are found, and say nothing of whom they are about."""

from portal.demo.crawl import kind_of
from portal.demo.labels import labels_of, masked

PAGE = """<!doctype html><h1>Look: <b>Robins</b></h1><a href="/x/">See <svg></svg>it</a>
<a href="/x/" aria-label="Close the list">×</a>
<form><label for="a">Reply to Ada</label><button>Save <kbd>s</kbd></button></form>
<table><caption>Who sent</caption><tr><th>Child</th><td>Ada I</td></tr></table>"""


def test_every_label_is_listed_by_what_it_is():
    assert labels_of(PAGE, {"Robins", "Ada I", "Ada"}) == {
        "heading": ["Look: …"],
        "button": ["Save s"],
        "link": ["See it", "Close the list ×"],
        "field": ["Reply to …"],
        "table head": ["Who sent", "Child"],
    }


def test_days_and_numbers_are_left_out():
    assert masked("Wednesday 25 November 2026: Halving", set()) == "… Halving"
    assert masked("3 marked for the lead", set()) == "… marked for the lead"


def test_one_page_of_a_kind_is_enough_whomever_it_is_about():
    assert kind_of("/children/1/") == kind_of("/children/29/") == "assessment:child?"
    assert kind_of("/classes/1/look/?show=all&child=3") == "assessment:queue?child&show"
    assert kind_of("https://example.org/children/1/") is None
    assert kind_of("mailto:somebody@example.org") is None
