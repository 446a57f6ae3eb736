"""The word beside a family's week: drafted, edited, held until the set time, then read."""

import datetime as dt

import pytest
from freezegun import freeze_time

from assessment.insight.taking_part import Part
from assessment.insight.weeks import Week
from assessment.models import FamilyWord
from assessment.weekly.family_words import drafted
from assessment.weekly.summaries import make_due, make_summary
from portal.people.models import Closure
from tests.assessment.builders import add_photo, looked, send, set_day
from tests.village import MONDAY

WEEK = Week(2026, 48)
FRIDAY_1530 = dt.datetime(2026, 11, 27, 15, 30, tzinfo=dt.UTC)
A_MINUTE = dt.timedelta(minutes=1)
PAGE = "/weeks/2026-W48/"


@pytest.fixture
def thursday(village):
    """Set a day about halving and stop the clock on Thursday."""
    with freeze_time("2026-11-26 12:00") as clock:
        set_day(village.robins)
        village.clock = clock
        yield village


def edit(client, village, **texts):
    """Type words into the page as it is: `word` for all, `word_PK` for one child."""
    address = f"/classes/{village.robins.pk}/weeks/2026-W48/words/"
    rows = client.get(address).context["rows"]
    data = {}
    for word, shown in ((row["word"], row["form"].initial["text"]) for row in rows):
        data[f"{word.prefix}-version"] = word.version
        data[f"{word.prefix}-was"] = shown
        data[f"{word.prefix}-text"] = texts.get(word.prefix.replace("-", "_"), shown)
    return client.post(address, data, follow=True)


def read(signed_in, role="family"):
    return signed_in(role).get(PAGE).content.decode()


def roll_up(village):
    village.clock.move_to(FRIDAY_1530)
    make_due(FRIDAY_1530)


def test_the_draft_says_what_the_weeks_work_was_about(thursday):
    set_day(thursday.robins, MONDAY + dt.timedelta(days=1))
    assert drafted(thursday.robins, WEEK) == "This week's number work was about: Halving."
    assert drafted(thursday.wrens, WEEK) == ""


def test_families_read_no_word_before_the_set_time(thursday, signed_in):
    edit(signed_in("teacher"), thursday, word="Lovely sharing, everybody.")
    assert "Lovely sharing" not in read(signed_in)
    roll_up(thursday)
    assert "Lovely sharing" in read(signed_in)


def test_what_nobody_touched_goes_out_by_itself_as_it_was_drafted(thursday, signed_in):
    roll_up(thursday)
    assert "number work was about: Halving." in read(signed_in)
    assert FamilyWord.objects.get(school_class=thursday.robins).by is None


def test_a_draft_that_went_out_stays_when_plans_change_later(thursday, signed_in):
    roll_up(thursday)
    thursday.robins.day_plans.update(focus="Canary")
    assert "number work was about: Halving." in read(signed_in)


def test_a_word_to_one_family_is_read_by_no_other(thursday, signed_in):
    words = {f"word_{thursday.aisha.pk}": "Aisha counted in her sleep."}
    edit(signed_in("teacher"), thursday, **words)
    roll_up(thursday)
    assert "in her sleep" in read(signed_in)
    assert "in her sleep" in read(signed_in, "second home")
    assert "in her sleep" not in read(signed_in, "other family")


def test_an_emptied_word_says_nothing(thursday, signed_in):
    edit(signed_in("teacher"), thursday, word="")
    roll_up(thursday)
    assert "number work was about" not in read(signed_in)


def test_rolling_up_twice_keeps_what_was_typed(thursday, signed_in):
    edit(signed_in("teacher"), thursday, word="Once.")
    roll_up(thursday)
    make_due(FRIDAY_1530 + A_MINUTE)
    make_summary(thursday.robins.pk, WEEK)
    assert FamilyWord.objects.get(school_class=thursday.robins).text == "Once."


def test_a_word_changed_after_it_went_out_is_read_changed(thursday, signed_in):
    roll_up(thursday)
    edit(signed_in("teacher"), thursday, word="One thing more: bring a peg.")
    assert "bring a peg" in read(signed_in)


def test_of_two_who_edit_the_second_is_told_and_nothing_is_overwritten(thursday, signed_in):
    address = f"/classes/{thursday.robins.pk}/weeks/2026-W48/words/"
    rows = signed_in("lead").get(address).context["rows"]
    edit(signed_in("teacher"), thursday, word="The teacher's.")
    words = [row["word"] for row in rows]
    data = {f"{word.prefix}-version": word.version for word in words}
    data |= {f"{word.prefix}-{name}": word.text for word in words for name in ("text", "was")}
    answer = signed_in("lead").post(address, {**data, "word-text": "The lead's."}, follow=True)
    assert "Somebody changed a word in the meantime" in answer.content.decode()
    assert FamilyWord.objects.get(child=None).text == "The teacher's."


def test_the_page_says_when_it_goes_out_and_when_it_went(thursday, signed_in):
    client = signed_in("teacher")
    address = f"/classes/{thursday.robins.pk}/weeks/2026-W48/words/"
    assert "from Friday 27 November, 15:30" in client.get(address).content.decode()
    roll_up(thursday)
    assert "The week went out" in signed_in("teacher").get(address).content.decode()


def test_in_a_week_without_school_nothing_goes_out(thursday, signed_in):
    Closure.objects.create(
        school=thursday.school, name="Break", first=MONDAY, last=MONDAY + dt.timedelta(days=4)
    )
    address = f"/classes/{thursday.robins.pk}/weeks/2026-W48/words/"
    assert "has no school" in signed_in("teacher").get(address).content.decode()
    roll_up(thursday)
    assert not FamilyWord.objects.filter(school_class=thursday.robins).exists()


def page_of(village):
    """Return the address of the page."""
    return f"/classes/{village.robins.pk}/weeks/2026-W48/words/"


@pytest.fixture
def halved(thursday):
    """Let Aisha have sent halving, and have been seen to halve alone."""
    work = send(thursday.aisha, thursday.first_home, thursday.robins.day_plans.get(), help="alone")
    looked(work, thursday.people["teacher"], how="independently")
    return add_photo(work)


def test_beside_each_box_stands_what_the_child_sent_and_what_was_seen(thursday, halved, signed_in):
    rows = signed_in("teacher").get(page_of(thursday)).context["rows"]
    aisha, ben = (row for row in rows if row["word"].child)
    assert [part for _day, part in aisha["facts"].days] == [Part.SENT]
    assert [(each.code, how) for each, how in aisha["facts"].seen] == [
        ("ELG-NP-3", ["independently"])
    ]
    assert aisha["facts"].draft == "Aisha sent number work on 1 day. I saw halving alone."
    assert (ben["facts"].works, ben["facts"].draft) == ([], "")
    html = signed_in("teacher").get(page_of(thursday)).content.decode()
    assert f"/pieces/{halved.token}/thumb/" in html


def test_a_draft_to_one_family_that_nobody_kept_is_read_by_nobody(thursday, halved, signed_in):
    edit(signed_in("teacher"), thursday, word="To all.")
    roll_up(thursday)
    assert "I saw halving" not in read(signed_in)


def keep(client, village, text, version=0, **more):
    """Keep the box of Aisha's family as the script does."""
    prefix = f"word-{village.aisha.pk}"
    data = {"box": prefix, f"{prefix}-version": version, f"{prefix}-text": text}
    return client.post(page_of(village), {**data, **more})


def test_one_box_is_kept_as_it_is_left_and_can_be_undone(thursday, halved, signed_in):
    client = signed_in("teacher")
    assert "Kept." in keep(client, thursday, "Aisha halved her toast.").content.decode()
    answer = keep(client, thursday, "Twice.", version=1).content.decode()
    assert 'data-undo="Aisha halved her toast."' in answer
    assert 'data-version="2"' in answer
    keep(client, thursday, "Aisha halved her toast.", version=2, undone="yes")
    assert FamilyWord.objects.get(child=thursday.aisha).text == "Aisha halved her toast."


def test_a_box_that_somebody_changed_meanwhile_is_not_overwritten(thursday, signed_in):
    keep(signed_in("lead"), thursday, "The lead's.")
    answer = keep(signed_in("teacher"), thursday, "The teacher's.")
    assert answer.status_code == 409
    assert "The lead&#x27;s." in answer.content.decode()
    assert FamilyWord.objects.get(child=thursday.aisha).text == "The lead's."


@pytest.mark.parametrize("role", ["assistant", "office", "family", "other teacher"])
def test_only_who_runs_the_class_writes_to_its_families(thursday, signed_in, role):
    address = f"/classes/{thursday.robins.pk}/weeks/2026-W48/words/"
    assert signed_in(role).get(address).status_code == 404
