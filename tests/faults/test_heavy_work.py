"""Long clips and a mail server that says nothing hold up neither photos, codes nor ticks."""

import datetime as dt
import time
from pathlib import Path

import pytest

from tests.evidence.media import made
from tests.faults.mail_server import MailServer
from tests.faults.phone import Phone, photo
from tests.faults.portal import WELL, Portal, running
from tests.stack import wait_for

pytestmark = [pytest.mark.stack, pytest.mark.proof]
CLIPS_LEFT = "SELECT count(*) FROM evidence_piece WHERE kind = 'clip' AND state = 'arrived'"
PHOTOS_READY = "SELECT count(*) FROM evidence_piece WHERE kind = 'photo' AND state = 'ready'"
WAIT = 60.0  # seconds; on a machine with nothing else to do it takes five


@pytest.fixture
def clip(place: Path) -> bytes:
    """Return a clip that takes its decoder far longer than all else in this test."""
    return made.clip(place / "long.mp4", seconds=60, size=(1280, 720), rate=30).read_bytes()


def ask_for_a_code(portal: Portal, email: str) -> None:
    """Ask for a code on a phone that nobody is signed in on."""
    stranger = Phone(portal.url, "", 0, "")
    assert stranger.post("/sign-in/", email=email).status == 302


def ticked_at(portal: Portal) -> str:
    """Return when a job of the beat was last done."""
    found = portal.ask("SELECT at FROM upkeep_mark WHERE name = 'tick'")
    return found[0][0] if found else ""


def test_six_long_clips_and_a_mute_mail_server_hold_up_nothing_else(ground, place, clip):
    with (
        MailServer() as mail,
        running(ground, place / "data", EMAIL_URL=mail.url, JOB_WORKERS="1") as portal,
    ):
        phones = portal.phones()
        for phone in phones[:6]:
            assert phone.send(clip).status == 302
        emails = [email for (email,) in portal.ask("SELECT email FROM people_user LIMIT 12")]
        for email in emails[:5]:
            ask_for_a_code(portal, email)
        wait_for(lambda: mail.calls >= 2, WAIT, "calls to the mail server")

        begun = time.monotonic()
        assert phones[6].send(photo(1)).status == 302
        wait_for(lambda: portal.count(PHOTOS_READY) == 1, WAIT, "the photo")
        photo_took = time.monotonic() - begun
        assert portal.count(CLIPS_LEFT) > 0
        assert mail.taken == []

        ticked = ticked_at(portal)
        wait_for(lambda: ticked_at(portal) > ticked, 2 * WAIT, "a tick while mail is silent")

        for phone in phones[7:13]:  # The first may be done by now.
            assert phone.send(clip).status == 302
        mail.mute, begun = False, time.monotonic()
        ask_for_a_code(portal, emails[6])
        wait_for(lambda: any(emails[6] in taken for taken in mail.taken), WAIT, "the code")
        code_took = time.monotonic() - begun
        told = dt.timedelta(seconds=round(photo_took)), dt.timedelta(seconds=round(code_took))
        print("a photo was ready after %s, a code came after %s" % told)  # noqa: T201, UP031
        assert portal.count(CLIPS_LEFT) > 0

        portal.wait_until_done(seconds=600)
        assert portal.accounts(phones) == WELL
