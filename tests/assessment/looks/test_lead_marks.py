"""Marking work for the lead: put on, listed across classes, settled, never told to families."""

import pytest

from assessment.models import LeadMark
from tests.assessment.builders import looked, send, set_day

HTMX = {"HTTP_HX_REQUEST": "true"}


@pytest.fixture
def work(village):
    return send(village.aisha, village.first_home, set_day(village.robins))


def test_a_mark_reaches_the_lead_of_the_school_with_its_words(signed_in, work):
    signed_in("assistant").post(f"/look/{work.token}/mark/", {"words": "Please see the writing"})
    html = signed_in("lead").get("/marks/").content.decode()
    assert "Please see the writing" in html
    assert f"/look/{work.token}/" in html
    assert "Assistant, " in html


def test_marks_of_other_classes_and_schools_are_not_listed(signed_in, work):
    signed_in("teacher").post(f"/look/{work.token}/mark/", {"words": "See this"})
    for role in ("other teacher", "foreign lead"):
        assert "See this" not in signed_in(role).get("/marks/").content.decode()
    for role in ("family", "office"):
        assert signed_in(role).get("/marks/").status_code == 404


def test_a_mark_that_is_settled_leaves_the_list_and_can_be_opened_again(signed_in, work):
    lead = signed_in("lead")
    lead.post(f"/look/{work.token}/mark/", {"words": "See this"})
    page = lead.post(f"/look/{work.token}/mark/settle/", {"list": "1"}, follow=True)
    html = page.content.decode()
    assert "Nothing is shown to the lead just now." in html
    assert f"/look/{work.token}/mark/open/" in html
    assert "See this" in lead.get("/marks/?settled=1").content.decode()
    lead.post(f"/look/{work.token}/mark/open/")
    assert LeadMark.objects.open().exists()


def test_a_mark_that_was_settled_can_be_put_on_with_other_words(signed_in, work):
    teacher = signed_in("teacher")
    teacher.post(f"/look/{work.token}/mark/", {"words": "First"})
    teacher.post(f"/look/{work.token}/mark/settle/")
    teacher.post(f"/look/{work.token}/mark/", {"words": "Second"})
    assert LeadMark.objects.open().get().words == "Second"


def test_marking_by_script_answers_with_the_part_alone(signed_in, work):
    teacher = signed_in("teacher")
    html = teacher.post(f"/look/{work.token}/mark/", {"words": "Short"}, **HTMX).content.decode()
    assert html.startswith('<div class="mark-part"')
    assert "Show it no longer" in html
    html = teacher.post(f"/look/{work.token}/mark/settle/", **HTMX).content.decode()
    assert "No longer shown to the lead." in html


def test_words_that_are_too_long_are_refused_and_nothing_is_marked(signed_in, work):
    long = {"words": "x" * 201}
    answer = signed_in("teacher").post(f"/look/{work.token}/mark/", long, **HTMX)
    assert answer.status_code == 422
    assert not LeadMark.objects.exists()


def test_a_family_is_never_told_of_a_mark(village, signed_in, work):
    signed_in("teacher").post(f"/look/{work.token}/mark/", {"words": "See the lead"})
    looked(work, village.people["teacher"])
    for page in ("/sent/", f"/sent/{work.token}/", "/weeks/2026-W48/"):
        html = signed_in("family").get(page).content.decode()
        assert "See the lead" not in html
        assert "hown to the lead" not in html
