"""Every page state named here holds to the standard, on a small screen as on a large one."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page
from playwright.sync_api import Error as FaultOfBrowser

from portal.people.models import User
from tests.access.scene import Scene, routes
from tests.access.walk import session_of
from tests.portal.states import HERE, WAIT, Group, State, doors, families, staff
from tests.portal.states.holding import wrong_with
from tests.portal.states.scene import states_scene

pytestmark = pytest.mark.django_db(transaction=True)
GROUPS = {group.name: group for group in (*families.GROUPS, *doors.GROUPS, *staff.GROUPS)}
FEWEST = 40


@pytest.fixture
def scene(settings) -> Scene:
    """Set the scene for a browser."""
    settings.ALLOWED_HOSTS = ["*"]
    settings.ROOT_URLCONF = "tests.portal.states.broken_site"
    return states_scene()


@pytest.fixture
def seat(browser: Browser, live_server, scene: Scene) -> Iterator:
    """Give a function that seats who comes through a group of states before a page."""
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
            letters = {"standard": 16 * group.look.letters, "fixed": 13 * group.look.letters}
            context.new_cdp_session(page).send("Page.setFontSizes", {"fontSizes": letters})
        return page

    yield sit
    for context in contexts:
        context.close()


def come_to(page: Page, scene: Scene, state: State) -> None:
    """Open the page of *state* and do what leads to it. Fails when it is another state."""
    if state.address != HERE:
        known = state.address in routes()
        path = scene.address(state.address) if known else state.address.format(**scene.arguments)
        page.unroute_all()
        answer = page.goto(path)
        assert answer.status == state.status, (state.name, answer.status)
    for deed in state.deeds:
        deed(page)
    page.wait_for_selector(state.shows)


@pytest.mark.parametrize("name", GROUPS)
def test_nothing_is_wrong_with_any_state(scene: Scene, seat, name: str):
    group = GROUPS[name]
    page = seat(group)
    found = {}
    for state in group.states:
        try:
            come_to(page, scene, state)
            assert page.get_attribute("html", "lang") == (group.look.language or "en-gb")
            found[state.name] = wrong_with(page, group.is_for_families)
        except (AssertionError, FaultOfBrowser) as fault:
            found[state.name] = [f"not come to: {fault}"]
    assert {state: wrong for state, wrong in found.items() if wrong} == {}


def test_at_least_forty_states_are_named_and_none_twice():
    names = [(group.name, state.name) for group in GROUPS.values() for state in group.states]
    assert len(set(names)) == len(names)
    assert len({state.name for group in GROUPS.values() for state in group.states}) >= FEWEST
