"""What a child did and what the teacher said, a leaf each, for the home that sent it alone."""

import datetime as dt

import pytest
from django.urls import reverse
from freezegun import freeze_time

from assessment.looks.looking import undo_look
from assessment.models import Goal, Tag
from evidence.models import Submission
from tests.assessment.builders import a_moment_ago, add_photo, goal, looked, send, set_day
from tests.tasks.builders import queries_of
from tests.village import MONDAY, Village

LEAVES = "/leaves/"
CAN_DO = "What you can do now"
HALVING = "Sharing a number into two equal parts and saying what is in one part"


@pytest.fixture(autouse=True)
def wednesday_evening():
    """Let it be Wednesday, six in the evening."""
    with freeze_time("2026-11-25 18:00"):
        yield


@pytest.fixture
def works(village: Village) -> list[Submission]:
    """Return what Aisha's first home sent on Monday, Tuesday and Wednesday."""
    days = [set_day(village.robins, MONDAY + dt.timedelta(days=number)) for number in range(3)]
    return [send(village.aisha, village.first_home, day, answers="right") for day in days]


def leaf(work: Submission) -> str:
    """Return the address of the leaf of *work*."""
    return reverse("assessment:leaf", args=[work.token])


def cover(village: Village, name: str = "aisha") -> str:
    """Return the address of a child's cover."""
    return reverse("assessment:child-leaves", args=[getattr(village, name).pk])


def turned(page: str) -> dict[str, str]:
    """Return where the links back and on of *page* lead."""
    links = {}
    for tag in page.split("<a ")[1:]:
        for rel in ("prev", "next"):
            if f'rel="{rel}"' in tag.split(">")[0]:
                links[rel] = tag.split('href="')[1].split('"')[0]
    return links


def test_one_turns_from_the_cover_to_the_newest_leaf_and_on_to_the_oldest(
    village, signed_in, works
):
    family = signed_in("family")
    monday, tuesday, wednesday = works
    page = family.get(cover(village)).content.decode()
    assert "Aisha" in page
    seen = []
    while on := turned(page).get("next"):
        seen.append(on)
        page = family.get(on).content.decode()

    assert seen == [leaf(wednesday), leaf(tuesday), leaf(monday)]
    assert turned(page) == {"prev": leaf(tuesday)}
    assert turned(family.get(leaf(wednesday)).content.decode())["prev"] == cover(village)


def test_a_leaf_holds_the_work_what_was_said_by_word_and_voice_and_where_more_is(
    village, signed_in, works
):
    _monday, tuesday, wednesday = works
    piece = add_photo(wednesday)
    looked(wednesday, village.people["teacher"], "Fair shares", next_step="Halves at breakfast")
    with a_moment_ago():
        voice = wednesday.voice_replies.create(
            state="ready", media_type="audio/mp4", name="v", sha256="0", size=1
        )
    page = signed_in("family").get(leaf(wednesday)).content.decode()
    for words in ("Fair shares", "Halves at breakfast", "Listen", "Wednesday 25 November"):
        assert words in page
    assert reverse("evidence:piece", args=[piece.token, "display"]) in page
    assert reverse("assessment:voice", args=[voice.token]) in page
    assert reverse("evidence:submission", args=[wednesday.token]) in page

    typed = signed_in("family").get(leaf(tuesday)).content.decode()
    answer = tuesday.answers.first()
    assert "<svg" in typed[typed.index("spread-work") : typed.index("spread-said")]
    assert answer.prompt.sentence.replace("□", answer.text) in typed
    assert "The teacher has not looked at this yet." in typed


def test_what_was_shown_alone_is_said_in_the_words_of_the_card_and_nothing_else_of_tags(
    village, signed_in, works
):
    family = signed_in("family")
    for work, how in zip(works, ("not yet", "with support", "independently"), strict=True):
        looked(work, village.people["teacher"], how=how)
    pages = [family.get(leaf(work)).content.decode() for work in works]

    assert [CAN_DO in page for page in pages] == [False, False, True]
    assert HALVING in pages[2]
    for page in pages:
        assert goal().text not in page
        assert goal().code not in page
        for how in Tag.How.values:
            assert f">{how}" not in page


def test_a_goal_that_the_day_s_work_cannot_show_is_not_said_to_be_shown(village, signed_in, works):
    look = looked(works[0], village.people["teacher"])
    goal()
    other = next(each for each in Goal.objects.all() if "halving" not in each.kinds)
    Tag.on(look.submission, other.pk, Tag.How.INDEPENDENTLY).save()

    assert CAN_DO not in signed_in("family").get(leaf(works[0])).content.decode()


def test_turning_to_a_leaf_opens_its_reply_and_no_other(village, signed_in, works):
    for work in works:
        looked(work, village.people["teacher"])
    family = signed_in("family")
    family.get(cover(village))
    family.head(leaf(works[0]))
    assert not Submission.objects.filter(opened_at__isnull=False).exists()

    family.get(leaf(works[1]))

    assert Submission.objects.get(opened_at__isnull=False) == works[1]


def test_no_home_turns_the_leaves_of_another_and_staff_turn_none(village, signed_in, works):
    theirs = send(village.aisha, village.second_home, works[0].day_plan)
    looked(theirs, village.people["teacher"])

    for role in ("family", "other family", "teacher", "assistant", "lead", "office"):
        assert signed_in(role).get(leaf(theirs)).status_code == 404
    assert Submission.objects.get(pk=theirs.pk).opened_at is None
    page = signed_in("second home").get(leaf(theirs)).content.decode()
    assert turned(page) == {"prev": cover(village)}


def test_a_reply_that_was_taken_back_is_on_no_leaf(village, signed_in, works):
    look = looked(works[0], village.people["teacher"], "Fair shares", how="independently")
    undo_look(Submission.objects.get(pk=works[0].pk), look.version)

    page = signed_in("family").get(leaf(works[0])).content.decode()

    assert "Fair shares" not in page
    assert CAN_DO not in page


def test_each_child_has_a_cover_and_one_without_work_a_leaf_that_says_what_comes(
    village, signed_in, works
):
    family = signed_in("family")
    covers = family.get(LEAVES).content.decode()
    assert cover(village) in covers
    assert cover(village, "cal") in covers
    blank = "What you send, and what the teacher says to it, will stand here."
    assert blank in family.get(cover(village, "cal")).content.decode()
    alone = signed_in("second home").get(LEAVES).content.decode()
    assert "Aisha" in alone
    assert blank in alone


def test_a_leaf_asks_the_same_of_the_database_however_much_there_is(village, signed_in, works):
    family, teacher = signed_in("family"), village.people["teacher"]
    add_photo(works[1])
    looked(works[1], teacher, how="independently")
    pages = (leaf(works[1]), cover(village), LEAVES)
    before = [queries_of(family, page) for page in pages]
    for number in range(4):
        work = send(village.aisha, village.first_home, works[number % 3].day_plan, answers="right")
        add_photo(work)
        looked(work, teacher, how="independently")
    add_photo(works[1])

    assert [queries_of(family, page) for page in pages] == before
