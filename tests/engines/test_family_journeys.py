"""What families do at home, in the browsers that half of all phones have instead of Chromium."""

import hashlib
from pathlib import Path

import pytest

from tests.engines.conftest import Home
from tests.engines.engine import Engine
from tests.engines.reply import WORDS
from tests.evidence.media.made import voice
from tests.faults.kept_on_phone import READ
from tests.faults.line import line_to
from tests.faults.speaking import film
from tests.stack import wait_for

pytestmark = [pytest.mark.stack, pytest.mark.proof]
SHOWN = "() => [...document.querySelectorAll('.step')].filter((each) => each.checkVisibility())"
ON = ".step .walk-on a:last-child"
RECORD = "document.querySelector('[data-record]')"
# Some have the recorder of the standard, and nothing that it could write in.
WRITES_SOUND = """return ["audio/mp4", "audio/webm;codecs=opus", "audio/ogg;codecs=opus"]
  .some((each) => window.MediaRecorder?.isTypeSupported(each));"""
PICKER, CHOSEN = "#id_pieces", "return document.querySelectorAll('.chosen-piece').length"


@pytest.fixture
def note(tmp_path) -> Path:
    """Return a voice note that was recorded elsewhere."""
    return voice(tmp_path / "note.m4a", "ipod", "aac", seconds=2.0)


def kept_in(engine: Engine) -> dict:
    """Return what the browser keeps, as tests/faults/kept_on_phone.py has it."""
    return engine.run(f"return ({READ})()")


def opened_at(engine: Engine, address: str) -> None:
    """Open a page to send from, and wait until its scripts have all in hand."""
    engine.open(address)
    engine.until("return document.querySelector('form[data-ready]') !== null")


def is_at(engine: Engine, name: str) -> None:
    """Wait until the screen *name* is shown, and no other, no wider than the browser."""
    engine.until(
        f"const [step, ...more] = ({SHOWN})(); return step?.id === given[0] && !more[0]", name
    )
    assert engine.run("return document.documentElement.scrollWidth <= innerWidth"), name


def on_to(engine: Engine, name: str) -> None:
    """Go on, and be at the screen *name*."""
    engine.press_at(ON)
    is_at(engine, name)


def choose(engine: Engine, *paths) -> None:
    """Choose files, and wait until each is in the tray."""
    there = engine.run(CHOSEN)
    engine.choose(PICKER, *paths)
    engine.until(f"{CHOSEN} === given[0]", there + len(paths))


def saved(engine: Engine, words: str) -> None:
    """Wait until the portal says that it is saved; then nothing is left in the browser."""
    engine.arrives("/sent/")
    engine.says(words)
    kept = kept_in(engine)
    assert (kept["drafts"], kept["files"], kept["local"], kept["session"]) == ([], [], [], [])


def test_a_day_goes_from_the_slip_to_the_reply(engine, home, photo):
    url = home.scene.portal.url
    engine.open(f"{url}/come-in/#{home.slip}")
    engine.write("[name=name]", "Gran")
    engine.press("Come in")
    engine.says(home.name)
    assert home.slip not in engine.address

    engine.press("Begin")
    is_at(engine, "ready")
    on_to(engine, "warm-up-1")
    on_to(engine, "main-task-1")
    for key in ("7", "Rub out", "8"):
        engine.press(key)
    on_to(engine, "send")
    engine.press("A little more first, if you would like")
    is_at(engine, "quick-recall-1")
    choice = engine.run("return document.querySelector('#quick-recall-1 [type=radio]').value")
    engine.press_at("#quick-recall-1 .choice")
    on_to(engine, "try-at-home-1")
    numbers = engine.run(
        "return [...document.querySelectorAll('[data-order] [value]')].map((each) => each.value)"
    )
    in_order = sorted(numbers, key=int)
    for number in in_order:
        engine.press(number)
    engine.open(f"{url}{home.send}#send")
    is_at(engine, "send")
    choose(engine, photo)
    engine.press("Send")
    saved(engine, "Saved: 1 piece")

    assert home.answers() == {
        "main_task": "8",
        "quick_recall": choice,
        "try_at_home": ", ".join(in_order),
    }
    wait_for(lambda: [row[:2] for row in home.pieces()] == [("photo", "ready")], what="the photo")

    home.scene.portal.python("tests.engines.reply")
    engine.open(f"{url}/today/")
    engine.says(WORDS)


def test_a_line_that_breaks_while_sending_loses_nothing_and_it_goes_on_by_itself(
    engine, home, tmp_path
):
    content = film(6_000_000)
    clip = tmp_path / "clip.mp4"
    clip.write_bytes(content)
    with line_to(home.scene.portal.port) as line:
        engine.let_in(line.url, home.cookie)
        opened_at(engine, f"{line.url}{home.send}")
        choose(engine, clip)
        before, line.rate = line.bytes_up, 1_500_000
        engine.press("Send")
        wait_for(lambda: line.bytes_up - before > len(content) / 2, what="half of it")
        line.take_down()
        engine.says("No connection just now.")
        line.bring_up()
        saved(engine, "Saved: 1 piece")
        assert line.bytes_up - before <= len(content) * 1.1 + 500_000

    [(_kind, _state, digest)] = home.pieces()
    assert digest == hashlib.sha256(content).hexdigest()


def test_a_page_that_goes_before_it_was_sent_loses_neither_photo_nor_words(engine, home, photo):
    url = home.scene.portal.url
    engine.let_in(url, home.cookie)
    opened_at(engine, f"{url}{home.send}")
    choose(engine, photo)
    engine.press("More to say")
    engine.write("[name=note]", "We used spoons.")
    wait_for(lambda: "spoons" in str(kept_in(engine)["drafts"]), what="the words")
    engine.open("about:blank")

    opened_at(engine, f"{url}{home.send}")
    engine.says("is still here")
    engine.until(f"{CHOSEN} === 1")
    engine.press("Send")
    saved(engine, "Saved: 1 piece")
    assert home.notes() == [("We used spoons.",)]


def test_the_card_opens_without_a_line_and_what_is_sent_there_goes_when_it_is_back(
    engine, home, photo
):
    with line_to(home.scene.portal.port) as line:
        engine.let_in(line.url, home.cookie)
        engine.open(f"{line.url}{home.card}")
        wait_for(lambda: {home.card, home.send} <= set(kept_in(engine)["pages"]), what="the pages")
        line.take_down()

        engine.open(f"{line.url}{home.card}")
        engine.says(home.name)
        engine.press("Begin")
        is_at(engine, "ready")
        engine.open(f"{line.url}/weeks/")
        engine.says("There is no connection just now")
        opened_at(engine, f"{line.url}{home.send}")
        choose(engine, photo)
        engine.press("Send")
        engine.says("It waits on this phone, and goes by itself")
        engine.open("about:blank")
        line.bring_up()

        engine.open(f"{line.url}{home.send}")
        saved(engine, "Saved: 1 piece")
    assert [row[0] for row in home.pieces()] == ["photo"]


def speak(engine: Engine, home: Home, note: Path) -> None:
    """Record a voice note; where that cannot be done choose *note*, which is offered instead."""
    url = home.scene.portal.url
    engine.let_in(url, home.cookie)
    opened_at(engine, f"{url}{home.send}")
    if engine.run(WRITES_SOUND):
        engine.press("Record a voice note")
        engine.until(f"return /0:0[2-9]|not allowed/.test({RECORD}.innerText)")
    else:
        assert engine.run(f"return {RECORD}.hidden")
        assert "voice notes" in engine.words()
    if engine.run(f"return {RECORD}.getAttribute('aria-pressed') === 'true'"):
        engine.press_at("[data-record]")
        engine.until(f"{CHOSEN} === 1")
    else:
        choose(engine, note)
    engine.until("return document.querySelector('.chosen-piece audio')?.checkVisibility()")
    engine.press("Send")
    saved(engine, "Saved: 1 piece")
    wait_for(lambda: [row[:2] for row in home.pieces()] == [("voice", "ready")], what="the note")


def test_a_voice_note_is_recorded_or_chosen_heard_and_sent(engine, home, note):
    speak(engine, home, note)
    recorded = home.pieces()[0][2] != hashlib.sha256(note.read_bytes()).hexdigest()
    assert recorded == engine.run(WRITES_SOUND)


def test_where_no_microphone_is_allowed_a_recording_is_chosen(opened, home, note):
    speak(opened(hears=False), home, note)
    assert home.pieces()[0][2] == hashlib.sha256(note.read_bytes()).hexdigest()


def test_urdu_reads_right_to_left_and_says_that_there_is_no_voice_for_it(engine, urdu_home):
    url = urdu_home.scene.portal.url
    engine.let_in(url, urdu_home.cookie)
    opened_at(engine, f"{url}{urdu_home.send}#warm-up-1")
    is_at(engine, "warm-up-1")
    back, on = engine.run(
        "return [...document.querySelectorAll('#warm-up-1 .walk-on a')]"
        ".map((each) => each.getBoundingClientRect().x)"
    )
    assert on < back
    assert engine.run(
        "return [document.documentElement.lang, getComputedStyle(document.body).direction]"
    ) == ["ur", "rtl"]
    heard = "return document.querySelector('#warm-up-1 [data-speak]').checkVisibility()"
    assert engine.run(heard)
    engine.press_at("#warm-up-1 [data-speak]")
    said = engine.until(
        "const note = document.querySelector('#no-voice');"
        "return note.checkVisibility() && note.innerText"
    )
    assert any("\u0600" <= letter <= "\u06ff" for letter in said)
