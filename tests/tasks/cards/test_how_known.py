"""Saying how one knows: a voice note at a question of the walk, heard beside its answer."""

import re
from collections.abc import Iterator

import pytest
from django.test import Client
from django.urls import reverse
from playwright.sync_api import Browser, expect

from evidence.models import Piece, Submission
from evidence.uploads.tus.creating import UploadRequest, create
from evidence.uploads.tus.protocol import RequestError
from tasks.models import DayPlan, TaskPrompt
from tasks.numberwork import KINDS
from tests import browsers
from tests.evidence.builders import make_arrived_piece, make_plan, make_ready_piece
from tests.standard import faults_of
from tests.tasks.browsing import Opener, opening
from tests.tasks.builders import drafted, gone_out
from tests.village import Village
from tests.walking import go_to

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def plan(village: Village) -> DayPlan:
    """Let a day be set whose main task is one that asks how one knows."""
    plan = drafted(village, "main_task")
    plan.tasks.update(kind="sharing-equally")
    return gone_out(plan)


@pytest.fixture
def hearing(browser: Browser, browser_program: str, live_server, village) -> Iterator[Opener]:
    """Return a function that opens pages in a browser whose microphone hears a tone."""
    with_sound = browsers.launch(browser.browser_type, browser_program, *browsers.HEARING)
    yield from opening(with_sound, live_server, village)
    with_sound.close()


def address_of(village: Village, plan: DayPlan) -> str:
    return reverse("evidence:send", args=[village.aisha.pk, plan.date])


def first_prompt(plan: DayPlan) -> TaskPrompt:
    return TaskPrompt.objects.filter(task__day_plan=plan).first()


def test_the_kinds_that_ask_how_are_those_whose_words_ask_it():
    asked = {name for name, kind in KINDS.items() if kind.asks_how}
    assert {"sharing-equally", "halving", "ordering", "comparing"} <= asked
    assert not asked & {"number-formation", "number-bonds", "one-more"}


def test_it_is_said_at_its_question_heard_there_and_goes_with_send(
    village: Village, hearing: Opener, plan: DayPlan
):
    page = hearing("second home", f"{address_of(village, plan)}#main-task-1", 360)
    page.wait_for_selector("form[data-ready]")
    step = page.locator("#main-task-1")
    for _again in range(2):  # said once more, the new one stands in place of the old
        step.get_by_role("button", name="Say how you know").click()
        page.get_by_role("button", name="Stop 0:01").click()
        expect(step.locator("audio")).to_be_visible()
        expect(step.get_by_role("button", name="Say how you know")).to_be_visible()
    assert faults_of(page) == []
    page.wait_for_timeout(500)
    page.reload()
    expect(step.locator("audio")).to_be_visible()
    go_to(page, "main-task-2")
    expect(page.locator("#main-task-2 audio")).to_be_hidden()
    go_to(page, "send")
    expect(page.locator(".chosen-piece")).to_have_count(1)
    page.get_by_role("button", name="Send", exact=True).click()
    page.wait_for_url(re.compile("/sent/"))

    piece = Submission.objects.get(day_plan=plan).pieces.get()
    assert piece.prompt == first_prompt(plan)


def voice_at(plan: DayPlan, village: Village) -> Piece:
    """Make a voice note of the first home at the first question."""
    work = Submission.objects.create(
        child=village.aisha, home=village.first_home, day_plan=plan, note="Here."
    )
    piece = make_ready_piece(work, b"sound", role="sound", media_type="audio/mp4", kind="voice")
    Piece.objects.update(prompt=first_prompt(plan))
    return piece


def test_the_teacher_hears_it_beside_the_answer_and_only_there(village, plan, signed_in):
    piece = voice_at(plan, village)
    page = signed_in("teacher").get(reverse("assessment:look", args=[piece.submission.token]))
    html = page.content.decode()
    source = reverse("evidence:piece", args=[piece.token, "sound"])

    assert html.count(source) == 1
    row = next(row for row in re.findall(r"<tr>.*?</tr>", html, re.DOTALL) if source in row)
    assert first_prompt(plan).sentence in row.replace("&#x27;", "'")


def test_what_is_still_being_made_ready_stands_among_the_pieces(village, plan, signed_in):
    work = voice_at(plan, village).submission
    waiting = make_arrived_piece(work, b"other", kind="voice", prompt=first_prompt(plan))
    page = signed_in("teacher").get(reverse("assessment:look", args=[work.token]))
    assert reverse("evidence:piece-state", args=[waiting.token]) in page.content.decode()


def test_it_is_the_childs_own_and_of_a_question_it_was_set(village: Village, plan: DayPlan):
    make_plan(village.wrens)
    other = TaskPrompt.objects.exclude(task__day_plan=plan).first()

    def asked(prompt: int) -> TaskPrompt | None:
        request = UploadRequest(
            village.aisha.pk, plan.date, "k" * 24, also=(str(village.cal.pk),), prompt=prompt
        )
        upload = create(village.people["family"], request, 10, "")
        assert not upload.also.exists()
        return upload.prompt

    assert asked(first_prompt(plan).pk) == first_prompt(plan)
    assert asked(other.pk) is None
    with pytest.raises(RequestError):
        UploadRequest.of({"child": "1", "day": "2026-11-23", "form": "k" * 24, "prompt": "one"})


def test_a_question_that_is_no_longer_set_leaves_the_note(village, plan, signed_in):
    piece = voice_at(plan, village)
    TaskPrompt.objects.filter(task__day_plan=plan).delete()
    piece.refresh_from_db()
    assert piece.prompt is None
    client: Client = signed_in("teacher")
    html = client.get(reverse("assessment:look", args=[piece.submission.token])).content.decode()
    assert reverse("evidence:piece", args=[piece.token, "sound"]) in html
