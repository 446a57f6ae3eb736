"""What a teacher draws over a photo stands beside the reply; the photo itself stays as it is."""

import json
import re

import pytest
from django.urls import reverse
from django.utils import timezone
from playwright.sync_api import Page, expect

from assessment.looks.drawing.pictures import drawn_on, picture_name, to_draw_on
from assessment.looks.drawing.strokes import FURTHEST, MOST, Stroke, read_strokes
from assessment.looks.looking import LookData, save_look, undo_look
from assessment.models import Look
from evidence.models import Piece, Submission
from evidence.submissions.answered import SEEN_BY_FAMILIES_AFTER
from tests.assessment.builders import goal, send, set_day
from tests.assessment.looks.test_look_page import form
from tests.evidence.builders import jpeg, make_ready_piece, stored_bytes
from tests.tasks.browsing import Opener
from tests.village import Village

RING, NUMBER = ["ring", 100, 100, 300, 260], ["number", 500, 200, 1]
WIDE, HIGH = 640, 480
KEPT = """async () => {
  const base = await new Promise((done) => {
    const asked = indexedDB.open("waiting", 1);
    asked.onsuccess = () => done(asked.result);
  });
  const kept = await new Promise((done) => {
    const asked = base.transaction("drafts").objectStore("drafts").getAll();
    asked.onsuccess = () => done(asked.result);
  });
  base.close();
  return JSON.stringify(kept).includes("ring");
}"""


@pytest.fixture
def work(village: Village) -> Submission:
    """Return work with one photo, 640 by 480."""
    goal()
    work = send(village.aisha, village.first_home, set_day(village.robins), answers="right")
    make_ready_piece(work, jpeg(size=(WIDE, HIGH)))
    Piece.objects.get().renditions.update(width=WIDE, height=HIGH)
    return work


def name_of(work: Submission) -> str:
    return to_draw_on(work)[0].name


def drawing(work: Submission, *strokes: list) -> LookData:
    return LookData(reply="Look here.", strokes={name_of(work): list(strokes)})


def test_what_is_drawn_is_kept_changed_and_undone_with_the_reply(village, work):
    teacher = village.people["teacher"]
    first = save_look(work, teacher, drawing(work, RING), 0)
    second = save_look(work, teacher, drawing(work, RING, NUMBER), first.version)
    assert len(drawn_on(work, second.strokes)[0].strokes) == 2

    undo_look(work, second.version)

    [picture] = drawn_on(work, Look.objects.get().strokes)
    assert picture.strokes == (Stroke("ring", (100, 100, 300, 260)),)
    assert picture.box == "0 0 1000 750"


def test_one_reply_to_many_leaves_what_was_drawn(village, work):
    teacher = village.people["teacher"]
    look = save_look(work, teacher, drawing(work, RING), 0)
    save_look(work, teacher, LookData(reply="Well done, all."), look.version)
    assert Look.objects.get().strokes == {name_of(work): [RING]}


def test_a_picture_that_is_turned_afterwards_shows_no_strokes_in_wrong_places(village, work):
    look = save_look(work, village.people["teacher"], drawing(work, RING), 0)
    Piece.objects.update(turned=90, turn=90)
    assert drawn_on(Submission.objects.get(), look.strokes) == []


@pytest.mark.parametrize(
    "strokes",
    [
        "ring",
        ["x"],
        [["ring", 1, 2, 3]],
        [["star", 1, 2, 3, 4]],
        [["ring", 1, 2, 3, -1]],
        [["ring", 1, 2, 3, FURTHEST + 1]],
        [["ring", True, 2, 3, 4]],
        [["number", 1, 2, 100]],
        [["line", 1, 2, 3]],
        [["line", *range(402)]],
        [[RING, 1]],
        [RING] * (MOST + 1),
    ],
)
def test_anything_else_than_strokes_is_refused_and_nothing_is_saved(signed_in, work, strokes):
    with pytest.raises(ValueError):
        read_strokes({name_of(work): strokes})
    sent = form(reply="Here", strokes=json.dumps({name_of(work): strokes}))
    page = signed_in("teacher").post(f"/look/{work.token}/", sent)
    assert page.status_code == 422
    assert "Draw it once more" in page.content.decode()
    assert not Look.objects.exists()


def test_strokes_over_anothers_picture_are_not_kept(village, signed_in, work):
    other = send(village.ben, village.second_home, work.day_plan)
    make_ready_piece(other, jpeg(size=(WIDE, HIGH)))
    strokes = json.dumps({name_of(other): [RING], name_of(work): [RING], "7": [RING]})
    signed_in("teacher").post(f"/look/{work.token}/", form(reply="Here", strokes=strokes))
    assert list(Look.objects.get().strokes) == [name_of(work)]


def opened_by_drawing(opened: Opener, work: Submission) -> Page:
    page = opened("teacher", reverse("assessment:look", args=[work.token]), 1280)
    page.get_by_role("button", name="Draw on it").click()
    expect(page.get_by_role("dialog")).to_be_visible()
    return page


def choose(page: Page, shape: str) -> None:
    page.get_by_role("radio", name=shape).check()


@pytest.mark.django_db(transaction=True)
def test_a_teacher_draws_by_pressing_and_dragging_and_the_family_sees_it(
    village: Village, opened: Opener, work: Submission
):
    before = stored_bytes(Piece.objects.get().files["display"].name)
    page = opened_by_drawing(opened, work)
    box = page.locator("[data-draw-on] svg").bounding_box()
    across = box["width"] / 1000

    def at(x: int, y: int) -> tuple[float, float]:
        return box["x"] + x * across, box["y"] + y * across

    page.mouse.click(*at(500, 300))
    for shape, start, end in (("Arrow", (100, 600), (300, 400)), ("Line", (600, 600), (800, 650))):
        choose(page, shape)
        page.mouse.move(*at(*start))
        page.mouse.down()
        page.mouse.move(*at(*end), steps=5)
        page.mouse.up()
    choose(page, "Count")
    page.mouse.click(*at(200, 200))
    page.mouse.click(*at(300, 200))
    choose(page, "Tick")
    page.mouse.click(*at(900, 100))
    expect(page.locator("[data-draw-said]")).to_have_text("6 drawn")
    page.get_by_role("button", name="Take the last away").click()
    expect(page.locator("[data-draw-said]")).to_have_text("5 drawn")
    page.get_by_role("button", name="Done").click()
    expect(page.locator("[data-drawn-here] path")).to_have_count(6)
    drawn = page.locator("[data-drawn-here] path").evaluate_all(
        "all => all.map((each) => each.getAttribute('d'))"
    )
    page.locator(".desk-save .button-plain").click()
    expect(page).to_have_url(re.compile("saved="))

    look = Look.objects.get()
    [strokes] = look.strokes.values()
    assert [each[0] for each in strokes] == ["ring", "arrow", "line", "number", "number"]
    assert [each[3] for each in strokes if each[0] == "number"] == [1, 2]
    outlines = [each.outline for each in drawn_on(work, look.strokes)[0].strokes if each.outline]
    assert drawn == [line for outline in outlines for line in (outline, outline)]

    earlier = timezone.now() - SEEN_BY_FAMILIES_AFTER
    for told in (Look.objects, Submission.objects):
        told.update(looked_at=earlier)
    home = opened("family", reverse("evidence:submission", args=[work.token]), 360)
    overlay = home.locator(".reply .strokes")
    expect(overlay.locator("path")).to_have_count(6)
    expect(overlay.locator("text")).to_have_text(["1", "2"])
    picture = home.locator(".reply .drawn img").bounding_box()
    assert overlay.bounding_box() == pytest.approx(picture, abs=1)
    assert stored_bytes(Piece.objects.get().files["display"].name) == before


@pytest.mark.django_db(transaction=True)
def test_what_is_drawn_and_not_saved_is_there_again_after_the_page_was_closed(
    village: Village, opened: Opener, work: Submission
):
    page = opened_by_drawing(opened, work)
    page.locator("[data-draw-on] svg").click()
    page.get_by_role("button", name="Done").click()
    page.wait_for_function(KEPT)
    page.reload()
    expect(page.locator("[data-drawn-here] path")).to_have_count(2)


def test_a_picture_is_named_by_its_piece_its_page_and_how_it_is_turned(work):
    piece = Piece.objects.get()
    assert name_of(work) == picture_name(piece, piece.pages[0]) == f"{piece.pk}/1/0"
