"""The scene of the page states, and a seat before a page for whoever comes through them."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page

from portal.people.models import User
from tests.access.scene import Scene
from tests.access.walk import session_of
from tests.browsers import WAIT
from tests.portal.states import Group
from tests.portal.states.scene import states_scene


@pytest.fixture
def scene(settings) -> Scene:
    """Set the scene for a browser."""
    settings.ALLOWED_HOSTS = ["*"]
    settings.ROOT_URLCONF = "tests.portal.states.broken_site"
    return states_scene()


@pytest.fixture
def seat(browser: Browser, live_server, scene: Scene) -> Iterator:
    """Return a function that seats who comes through a group of states before a page."""
    contexts = []

    def sit(group: Group) -> Page:
        size = {"width": group.look.width, "height": 740}
        context = browser.new_context(
            viewport=size, base_url=live_server.url, service_workers="block"
        )
        context.set_default_timeout(WAIT)
        contexts.append(context)
        User.objects.update(language=group.look.language)
        if group.role != "visitor":
            key = session_of(scene.village.people[group.role])
            context.add_cookies([{"name": "session", "value": key, "url": live_server.url}])
        page = context.new_page()
        page.emulate_media(**dict(group.look.media))
        if group.look.letters > 1:
            page.goto("/healthz")  # the size is kept by the process that serves the site
            letters = {"standard": 16 * group.look.letters, "fixed": 13 * group.look.letters}
            context.new_cdp_session(page).send("Page.setFontSizes", {"fontSizes": letters})
        return page

    yield sit
    for context in contexts:
        context.close()
