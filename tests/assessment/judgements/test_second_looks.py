"""A second look is blind, by somebody else, counts nowhere, and gives agreement with its table."""

import datetime as dt

import pytest
from freezegun import freeze_time

from assessment.judgements.second_looks import (
    NothingToSampleError,
    draw_sample,
    next_piece,
    outcome,
    save_second,
    who_may_look,
)
from assessment.models import Look, Sample, SecondTag, Tag
from assessment.progress.evidence_strength import weighed
from evidence.models import Submission
from tests.assessment.builders import goal, send, set_day
from tests.assessment.progress.builders import shown
from tests.village import MONDAY


@pytest.fixture
def looked_at(village):
    """Let the teacher have tagged four pieces of Aisha's."""
    with freeze_time("2026-11-27 12:00"):
        shown(village, village.aisha, "nsii")
        yield village


def draw(village, count=10, second="assistant"):
    return draw_sample(village.robins, village.people[second], count, village.people["lead"])


def tag_all(sample, *hows):
    """Tag the pieces of *sample* in the order of their days."""
    by_day = sorted(sample.pieces.all(), key=lambda piece: piece.submission.day_plan.date)
    for piece, how in zip(by_day, hows, strict=False):
        save_second(piece, {goal().pk: how})


def test_as_many_are_drawn_as_asked_for_or_as_there_are(looked_at):
    assert draw(looked_at, 3).pieces.count() == 3
    assert draw(looked_at, 3).pieces.count() == 1
    with pytest.raises(NothingToSampleError):
        draw(looked_at, 3)


def test_what_the_second_looker_tagged_is_not_drawn(looked_at):
    with pytest.raises(NothingToSampleError):
        draw(looked_at, 3, second="teacher")


def test_what_was_not_looked_at_or_was_withdrawn_is_not_drawn(looked_at):
    plan = set_day(looked_at.robins, MONDAY + dt.timedelta(days=6))
    send(looked_at.ben, looked_at.bens_home, plan)
    work = Submission.objects.filter(looked_at__isnull=False).first()
    Submission.objects.filter(pk=work.pk).update(withdrawn_at=work.sent_at)
    assert draw(looked_at).pieces.count() == 3


def test_only_staff_who_see_the_work_of_the_class_are_asked(looked_at, signed_in):
    names = [user.name for user in who_may_look(looked_at.robins)]
    assert names == ["Assistant", "Lead", "Teacher"]
    data = {"school_class": looked_at.robins.pk, "count": 2}
    for wrong in ("other teacher", "office", "foreign lead"):
        second = looked_at.people[wrong].pk
        answer = signed_in("lead").post("/school/second-looks/", {**data, "second": second})
        assert answer.status_code == 422
    assert not Sample.objects.exists()


def test_the_page_shows_the_work_and_neither_tags_nor_reply(looked_at, signed_in):
    for tag in Tag.objects.all():
        Look.objects.create(submission=tag.submission, reply="Canary reply", next_step="Canary")
    sample = draw(looked_at)
    html = signed_in("assistant").get(f"/second-looks/{sample.pk}/").content.decode()
    assert "Canary" not in html
    assert html.count("checked") == html.count('value="" checked') > 0


def test_the_second_looker_goes_piece_by_piece_to_the_end(looked_at, signed_in):
    sample = draw(looked_at, 2)
    client = signed_in("assistant")
    for _piece in range(2):
        html = client.get(f"/second-looks/{sample.pk}/").content.decode()
        piece = next_piece(sample)
        assert f'name="piece" value="{piece.pk}"' in html
        data = {"piece": piece.pk, f"goal-{goal().pk}": "independently"}
        client.post(f"/second-looks/{sample.pk}/", data)
    answer = client.get(f"/second-looks/{sample.pk}/")
    assert answer.status_code == 302
    assert SecondTag.objects.count() == 2


def test_a_form_sent_twice_or_empty_stores_nothing_more(looked_at, signed_in):
    sample = draw(looked_at, 2)
    client = signed_in("assistant")
    first = next_piece(sample)
    data = {"piece": first.pk, f"goal-{goal().pk}": "independently"}
    for sent in (data, data, {"piece": next_piece(sample).pk}):
        client.post(f"/second-looks/{sample.pk}/", sent)
    assert SecondTag.objects.get().piece == first


def test_a_second_look_is_no_evidence(looked_at):
    before = weighed([looked_at.aisha], dt.date(2026, 11, 27))
    tag_all(draw(looked_at), *["not yet"] * 4)
    assert weighed([looked_at.aisha], dt.date(2026, 11, 27)) == before


def test_tags_changed_after_the_draw_do_not_change_what_is_compared(looked_at):
    sample = draw(looked_at)
    Tag.objects.all().delete()
    tag_all(sample, "not yet", "with support", "independently", "independently")
    assert outcome(sample).together.agreed == 4


def test_agreement_comes_with_count_plain_agreement_and_table(looked_at):
    sample = draw(looked_at)
    tag_all(sample, "not yet", "independently", "independently", "independently")
    found = outcome(sample)
    assert found.finished
    one = found.goals[0]
    assert (one.plain.count, one.agreed) == (4, 3)
    # po 3/4, pe (1*1 + 1*0 + 2*3)/16, kappa (0.75 - 0.4375) / 0.5625
    assert one.plain.kappa == pytest.approx(5 / 9)
    assert one.plain.band == "moderate"
    assert one.linear.band is None
    assert one.lines[1] == ("with support", (0, 0, 1, 0))


def test_one_word_alone_cannot_be_computed_and_says_why(looked_at, signed_in):
    Tag.objects.update(how="independently")
    sample = draw(looked_at)
    tag_all(sample, *["independently"] * 4)
    html = signed_in("lead").get(f"/school/second-looks/{sample.pk}/").content.decode()
    assert "cannot be computed: both used one word only" in html
    assert "Both tagged 4 pieces; the same word on 4." in html


def test_a_goal_that_only_one_used_is_counted_and_in_no_figure(looked_at):
    sample = draw(looked_at)
    for piece in sample.pieces.all():
        save_second(piece, {goal("ELG-NUM-1").pk: "not yet"})
    found = outcome(sample)
    assert found.together.plain.count == 0
    assert {one.by_one for one in found.goals} == {4}


def test_a_lead_who_looks_sees_no_figure_before_the_end(looked_at, signed_in):
    sample = draw(looked_at, 2, second="lead")
    client = signed_in("lead")
    save_second(next_piece(sample), {goal().pk: "not yet"})
    assert "Kappa" not in client.get(f"/school/second-looks/{sample.pk}/").content.decode()
    assert client.get(f"/school/second-looks/{sample.pk}.csv").status_code == 404
    save_second(next_piece(sample), {goal().pk: "not yet"})
    assert "Kappa" in client.get(f"/school/second-looks/{sample.pk}/").content.decode()


def test_only_the_one_asked_looks_and_only_a_lead_reads_the_figures(looked_at, signed_in):
    sample = draw(looked_at)
    for role in ("teacher", "lead", "office", "family", "foreign lead"):
        assert signed_in(role).get(f"/second-looks/{sample.pk}/").status_code == 404
    for role in ("assistant", "teacher", "office", "family", "foreign lead"):
        assert signed_in(role).get(f"/school/second-looks/{sample.pk}/").status_code == 404
    assert signed_in("family").get("/second-looks/").status_code == 404


def test_whoever_left_the_class_looks_at_its_work_no_more(looked_at, signed_in):
    sample = draw(looked_at)
    looked_at.people["assistant"].posts.get().classes.clear()
    assert signed_in("assistant").get(f"/second-looks/{sample.pk}/").status_code == 404
