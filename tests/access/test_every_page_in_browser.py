"""Every page, opened once in a real browser, asks no other host and keeps to the content policy."""

from collections.abc import Iterator
from dataclasses import dataclass, field

import pytest
from django.test import Client
from playwright.sync_api import Browser, Page, Route

from portal.people.models import User
from tests.access.scene import ROLES, Scene, routes
from tests.access.walk import session_of

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.stack]
# Kept before the page itself runs, so that nothing it does is missed.
NOTE_BREACHES = """document.addEventListener("securitypolicyviolation",
  (breach) => noteBreach(`${breach.violatedDirective}: ${breach.blockedURI}`));"""


@dataclass
class Watched:
    """A browser's page, what it asked of other hosts, and what went wrong in it."""

    page: Page
    here: str
    strangers: list[str] = field(default_factory=list)
    breaches: list[str] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)

    def pass_on(self, route: Route) -> None:
        """Let a request to the portal through, and note any other."""
        if route.request.url.startswith((self.here, "data:", "blob:")):
            route.continue_()
        else:
            self.strangers.append(route.request.url)
            route.abort()

    def note_breach(self, told: str) -> None:
        """Note that the policy forbade something."""
        self.breaches.append(told)

    def open(self, address: str) -> None:
        """Open *address*, and wait until all that it names has come."""
        answer = self.page.goto(f"{self.here}{address}")
        assert answer.status == 200, address


@pytest.fixture
def scene(settings) -> Scene:
    """Set the scene for a browser."""
    settings.ALLOWED_HOSTS = ["*"]
    return Scene.build()


@pytest.fixture
def watch(browser: Browser, live_server) -> Iterator:
    """Return a function that gives a watched page, signed in as somebody."""
    contexts = []

    def as_one(user: User | None) -> Watched:
        context = browser.new_context(viewport={"width": 360, "height": 740})
        contexts.append(context)
        if user:
            cookie = {"name": "session", "value": session_of(user), "url": live_server.url}
            context.add_cookies([cookie])
        context.add_init_script(NOTE_BREACHES)
        watched = Watched(context.new_page(), live_server.url)
        context.route("**/*", watched.pass_on)
        context.expose_function("noteBreach", watched.note_breach)
        watched.page.on("pageerror", lambda error: watched.errors.append(str(error)))
        return watched

    yield as_one
    for context in contexts:
        context.close()


def pages_of(scene: Scene) -> dict[str, str]:
    """Return each address that is a page for somebody, and the first role to whom it is shown."""
    found: dict[str, str] = {}
    for role in ROLES:
        client = Client()
        if role != "visitor":
            client.cookies["session"] = session_of(scene.village.people[role])
        for name in routes().keys() - found.keys():
            answer = client.get(scene.address(name))
            if answer.status_code == 200 and answer["Content-Type"].startswith("text/html"):
                found[name] = role
    return found


def test_no_page_asks_another_host_or_breaks_the_content_policy(scene, watch):
    found = pages_of(scene)
    assert len(found) > len(routes()) / 4
    for role in sorted(set(found.values())):
        watched = watch(scene.village.people.get(role))
        for name in sorted(name for name in found if found[name] == role):
            watched.open(scene.address(name))
            wrong = watched.strangers + watched.breaches + watched.errors
            assert (name, wrong) == (name, [])
        watched.page.wait_for_load_state("networkidle")
        assert watched.strangers + watched.breaches + watched.errors == []


def test_a_page_that_asked_another_host_or_broke_the_policy_would_be_noticed(scene, watch):
    watched = watch(None)
    watched.open("/sign-in/")
    watched.page.evaluate("""() => {
      const picture = document.createElement("img");
      picture.src = "https://elsewhere.example/dot.png";
      document.body.append(picture);
      const words = document.createElement("p");
      words.setAttribute("style", "color: red");
      document.body.append(words);
    }""")
    watched.page.wait_for_load_state("networkidle")
    assert "img-src: https://elsewhere.example/dot.png" in watched.breaches
    assert any(breach.startswith("style-src") for breach in watched.breaches)
    with watched.page.expect_event("requestfailed"):
        watched.page.evaluate("() => { location.href = 'https://elsewhere.example/'; }")
    assert watched.strangers == ["https://elsewhere.example/"]
