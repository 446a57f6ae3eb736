"""The list of what came in: narrowed, ordered, counted, and the same again from a bookmark."""

import datetime as dt
import re

import pytest

from assessment.looks.lead_marks import mark_for_lead
from portal.people.models import StaffPost
from tests.assessment.builders import add_photo, at, looked, send, set_day
from tests.village import MONDAY

PLAIN = re.compile("plain|quiet|danger")
TUESDAY = MONDAY + dt.timedelta(days=1)


@pytest.fixture
def works(village):
    """Give Ben's halving of Monday, and Aisha's one more of Tuesday."""
    halving = set_day(village.robins, MONDAY, ("halving",))
    one_more = set_day(village.robins, TUESDAY, ("one-more",))
    return (
        send(village.ben, village.bens_home, halving, help="together"),
        send(village.aisha, village.first_home, one_more, help="alone"),
    )


def listed(client, village, query=""):
    """Give the children listed, in order."""
    page = client.get(f"/classes/{village.robins.pk}/look/{query}").context["page"]
    return [each.child.first_name for each in page.object_list]


@pytest.mark.parametrize(
    ("query", "shown"),
    [
        ("", ["Ben", "Aisha"]),
        ("?group={group}", ["Ben"]),
        ("?kind=one-more", ["Aisha"]),
        ("?kind=doubling", ["Ben", "Aisha"]),  # No such task: no sense, so not asked for.
        ("?order=newest", ["Aisha", "Ben"]),
        ("?order=child", ["Aisha", "Ben"]),
        ("?order=longest&show=all", ["Ben", "Aisha"]),
        ("?show=all", ["Aisha", "Ben"]),
        ("?marked=on", ["Aisha"]),
        ("?group={group}&kind=one-more", []),
        ("?order=upwards&group=none&of=moon", ["Ben", "Aisha"]),
    ],
)
def test_the_address_says_what_is_listed_and_in_which_order(
    village, signed_in, works, query, shown
):
    mark_for_lead(works[1], village.people["teacher"], "")
    query = query.format(group=village.bens_group.pk)
    assert listed(signed_in("teacher"), village, query) == shown


def test_each_choice_says_how_many_wait(village, signed_in, works):
    looked(works[1], village.people["teacher"])
    html = signed_in("teacher").get(f"/classes/{village.robins.pk}/look/").content.decode()
    for words in ("Ben T (1)", "Aisha K (0)", "Apples (1)", "Halving (1)", "One more (0)"):
        assert words in html
    assert "we did it together (1)" in html
    assert "all alone (0)" in html
    assert "1 waits, since Mon 23 Nov" in html


def test_a_lead_can_list_all_classes_and_a_teacher_of_one_is_not_asked(village, signed_in, works):
    send(village.cal, village.first_home, set_day(village.wrens))
    assert set(listed(signed_in("lead"), village, "?of=all")) == {"Ben", "Aisha", "Cal"}
    assert listed(signed_in("teacher"), village, "?of=all") == ["Ben", "Aisha"]
    html = signed_in("teacher").get(f"/classes/{village.robins.pk}/look/").content.decode()
    assert "all my classes" not in html


def test_a_teacher_of_two_classes_sees_no_third(village, signed_in, works):
    larks = village.dot.school_class
    send(village.dot, None, set_day(larks))
    StaffPost.objects.get(user=village.people["teacher"]).classes.add(village.wrens)
    assert "Dot" not in listed(signed_in("teacher"), village, "?of=all")


def test_the_list_leads_to_those_not_heard_from_and_to_what_is_marked(village, signed_in, works):
    mark_for_lead(works[0], village.people["teacher"], "")
    html = signed_in("teacher").get(f"/classes/{village.robins.pk}/look/").content.decode()
    assert f"/classes/{village.robins.pk}/not-heard-from/" in html
    assert "1 shown to the lead" in html


def test_the_pictures_lead_the_list_and_what_is_listed_stands_in_one_line(
    village, signed_in, works
):
    photo = add_photo(works[0])
    client, address = signed_in("teacher"), f"/classes/{village.robins.pk}/look/"
    html = client.get(address).content.decode()
    assert html.index(f"/pieces/{photo.token}/thumb/") < html.index("<bdi>Ben T</bdi>")
    assert 'Choose what to list <span class="soft">waiting</span>' in html
    assert '<details class="narrowing not-on-paper">' in html
    narrowed = client.get(f"{address}?kind=halving&child={village.ben.pk}").content.decode()
    assert "waiting, Halving (1), Ben T</span>" in narrowed
    assert '<details class="narrowing not-on-paper" open>' in narrowed


def test_the_list_has_one_filled_button(village, signed_in, works):
    html = signed_in("teacher").get(f"/classes/{village.robins.pk}/look/").content.decode()
    main = html[html.index("<main") : html.index("</main")]
    filled = [tag for tag in re.findall(r'class="(button[^"]*)"', main) if not PLAIN.search(tag)]
    assert filled == ["button button-large"]


def test_pages_keep_what_was_asked_for(village, signed_in, works):
    for number in range(31):
        day = at(village.robins, MONDAY, dt.time(8, number))
        send(village.ben, village.bens_home, works[0].day_plan, sent_at=day)
    html = (
        signed_in("teacher").get(f"/classes/{village.robins.pk}/look/?kind=halving").content
    ).decode()
    assert "?kind=halving&amp;page=2" in html
