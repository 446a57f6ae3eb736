"""Page states by name: where each is, what is done to come to it, and what shows that one is there.

A state is looked at as it stands: with an error in a form, a question open, a line that is cut.
Selectors are those of the markup and not of words, so that a state is the same in every language.
"""

from collections.abc import Callable
from dataclasses import dataclass

from playwright.sync_api import Page

from tests.evidence.builders import jpeg

Action = Callable[[Page], object]
HERE = ""
UPLOADS = "**/send/uploads/**"


@dataclass(frozen=True)
class State:
    """A page at *address* once *actions* are done.

    The address is a path, the name of a page of the scene, or HERE: where the state before is.
    """

    name: str
    address: str
    shows: str
    actions: tuple[Action, ...] = ()
    status: int = 200


@dataclass(frozen=True)
class Look:
    """How a page is looked at. *letters*: how many times as large as usual."""

    name: str = "as usual"
    width: int = 360
    language: str = ""
    letters: int = 1
    media: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Group:
    """States that one person (or a visitor) comes through, one after the other."""

    name: str
    role: str
    states: tuple[State, ...]
    look: Look = Look()

    @property
    def is_for_families(self) -> bool:
        """Whether targets must be large enough for a thumb."""
        return self.role in ("visitor", "family", "second home", "other family")


def press(selector: str) -> Action:
    """Press the first thing that *selector* finds."""
    return lambda page: page.locator(selector).first.click()


def unfold(selector: str) -> Action:
    """Open every fold that *selector* finds."""

    def open_all(page: Page) -> None:
        for summary in page.locator(f"{selector} > summary").all():
            summary.click()

    return open_all


def write(selector: str, words: str) -> Action:
    """Write *words* into a field."""
    return lambda page: page.locator(selector).first.fill(words)


def key(name: str) -> Action:
    """Press a key of the keyboard."""
    return lambda page: page.keyboard.press(name)


def send_badly(selector: str) -> Action:
    """Send a form without the browser's own checks, as one without them would."""
    return lambda page: page.locator(selector).first.evaluate(
        "form => { form.noValidate = true; form.requestSubmit(); }"
    )


def post(address: str) -> Action:
    """Send a form without its token to *address*, as a page from elsewhere would."""
    return lambda page: page.evaluate(
        """address => {
          const form = Object.assign(document.createElement("form"), {method: "post"});
          form.action = address;
          document.body.append(form);
          form.submit();
        }""",
        address,
    )


def choose(content: bytes | None = None) -> Action:
    """Choose a photo, or *content* under a photo's name, and wait until it is in the tray."""

    def choose_it(page: Page) -> None:
        page.wait_for_selector("form[data-ready]", state="attached")
        photo = {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": content or jpeg()}
        page.locator("#id_pieces").set_input_files(photo)
        page.wait_for_selector(".chosen-piece")

    return choose_it


def let_nothing_arrive(page: Page) -> None:
    """Let whatever is sent be on its way for ever."""
    page.route(UPLOADS, lambda route: None)


def cut_the_line(page: Page) -> None:
    """Let no line be there from now on."""
    page.route(UPLOADS, lambda route: route.abort())


def end_the_session(page: Page) -> None:
    """Let the portal say to what is sent that nobody is signed in."""
    page.route(UPLOADS, lambda route: route.fulfill(status=401))
