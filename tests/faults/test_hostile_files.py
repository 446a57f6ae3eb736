"""Files that mean harm are sent like any other: no worker ends, and nothing of them is shown."""

import hashlib
from collections.abc import Iterator

import pytest

from tests.evidence.media.hostile import ARCHIVE, EICAR, SCRIPT, corpus, reopen
from tests.faults.phone import Phone, photo
from tests.faults.portal import Portal, running

pytestmark = [pytest.mark.stack, pytest.mark.proof]
IN_ONE_GO = 11  # and a good photo beside them
SHOWN_AS = {"jpg": "image/jpeg", "mp4": "video/mp4", "m4a": "audio/mp4"}


@pytest.fixture(scope="module")
def portal(ground, place) -> Iterator[Portal]:
    with running(ground, place / "data") as portal:
        yield portal


@pytest.fixture(scope="module")
def sent(portal, tmp_path_factory) -> list[Phone]:
    """Send the corpus, each form with a good photo in it; give the phones that did."""
    files = list(corpus(tmp_path_factory.mktemp("corpus")).values())
    phones = portal.phones()[: -(-len(files) // IN_ONE_GO)]
    for number, phone in enumerate(phones):
        some = files[number * IN_ONE_GO : (number + 1) * IN_ONE_GO]
        assert phone.send(photo(number), *some).status == 302
    portal.wait_until_done(240)
    return phones


def test_no_worker_ends_and_every_good_photo_among_them_is_ready(portal, sent):
    ready = {sha for (sha,) in portal.ask("SELECT sha256 FROM evidence_piece WHERE state='ready'")}
    good = {hashlib.sha256(photo(number)).hexdigest() for number in range(len(sent))}

    assert good <= ready
    assert len(ready) < sum(len(phone.saved) for phone in sent)
    assert "is started again" not in portal.said
    assert "Traceback" not in portal.said
    assert not portal.decoders()


def test_nothing_is_shown_but_what_the_portal_made_itself(portal, sent, tmp_path):
    shown = portal.ask(
        "SELECT token, role, page, name, r.sha256 FROM evidence_rendition r"
        " JOIN evidence_piece p ON p.id = r.piece_id"
    )
    teacher = portal.teacher()
    assert len(shown) > 2 * len(sent)

    for token, role, page, name, sha256 in shown:
        answer = teacher.get(f"/pieces/{token}/{role}/?page={page}")
        assert answer.status == 200
        assert answer.headers["Content-Type"] in SHOWN_AS.values()
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert answer.headers["Content-Security-Policy"] == "sandbox"
        assert hashlib.sha256(answer.body).hexdigest() == sha256
        assert not [each for each in (EICAR, SCRIPT, ARCHIVE) if each in answer.body], name
        ending = answer.headers["Content-Disposition"].rpartition(".")[2].rstrip('"')
        assert answer.headers["Content-Type"] == SHOWN_AS[ending]
        (tmp_path / f"copy.{ending}").write_bytes(answer.body)
        reopen(tmp_path / f"copy.{ending}")


def test_each_family_is_told_which_of_its_files_could_not_be_read(portal, sent):
    refused = portal.ask(
        "SELECT s.token, count(*) FROM evidence_submission s JOIN evidence_piece p"
        " ON p.submission_id = s.id WHERE p.state = 'refused' GROUP BY s.id ORDER BY s.id"
    )
    assert refused

    for token, count in refused:
        pages = [phone.get(f"/sent/{token}/") for phone in sent]
        [own] = [page for page in pages if page.status == 200]
        assert own.text.count("could not be read") >= count
