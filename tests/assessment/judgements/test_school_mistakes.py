"""How common mistakes are in a school is learnt by night and told to its lead alone."""

import pytest

from assessment.jobs import learn_mistakes
from assessment.looks.learnt_shares import learnt_in
from assessment.models import MistakeShares
from tests.assessment.builders import send, set_day

pytestmark = pytest.mark.django_db
PAGE = "/school/mistakes/"


def doubled(village) -> None:
    """Have two homes double instead of halving."""
    plan = set_day(village.robins)
    send(village.aisha, village.first_home, plan, answers="doubled")
    send(village.ben, village.bens_home, plan, answers="doubled")


def test_the_lead_reads_what_was_assumed_what_was_found_and_how_sure(village, signed_in):
    doubled(village)
    learn_mistakes()
    page = signed_in("lead").get(PAGE)
    [halving] = page.context["kinds"]
    assert (halving.title, halving.sets, halving.is_little) == ("Halving", 2, True)
    row = next(row for row in halving.rows if row.words == "Said double instead of half")
    assert row.assumed < row.found
    assert row.low <= row.found < row.high
    assert halving.commonest == row
    html = page.content.decode()
    assert "still mostly what was assumed" in html
    assert "%" not in html.partition("<main")[2]


def test_nothing_is_learnt_across_schools(village, signed_in):
    doubled(village)
    learn_mistakes()
    assert [row.school for row in MistakeShares.objects.all()] == [village.school]
    assert signed_in("foreign lead").get(PAGE).context["kinds"] == []
    assert signed_in("teacher").get(PAGE).status_code == 404


def test_learning_twice_keeps_one_row_a_kind_and_drops_what_was_withdrawn(village):
    doubled(village)
    learn_mistakes()
    learn_mistakes()
    assert MistakeShares.objects.count() == 1
    village.aisha.submissions.all().delete()
    village.ben.submissions.all().delete()
    learn_mistakes()
    assert not MistakeShares.objects.exists()


def test_what_was_learnt_is_reckoned_with_and_what_cannot_be_read_is_not(village):
    doubled(village)
    learn_mistakes()
    kept = learnt_in(village.school.pk)["halving"]
    assert sum(kept.values()) == pytest.approx(1)
    assert kept["halving", "doubled"] > kept["halving", "took one away"]
    MistakeShares.objects.update(shares=[["none", False]])
    assert learnt_in(village.school.pk) == {}
