"""Every page state named here holds to the standard, on a small screen as on a large one."""

import pytest
from playwright.sync_api import Error as FaultOfBrowser
from playwright.sync_api import Page

from tests.access.scene import Scene, routes
from tests.portal.states import HERE, State, doors, families, staff
from tests.portal.states.holding import wrong_with

pytestmark = pytest.mark.django_db(transaction=True)
GROUPS = {group.name: group for group in (*families.GROUPS, *doors.GROUPS, *staff.GROUPS)}
FEWEST = 40
USUAL_LETTER = 16  # pixels


def come_to(page: Page, scene: Scene, state: State) -> None:
    """Open the page of *state* and do what leads to it. Fails when it is another state."""
    if state.address != HERE:
        known = state.address in routes()
        path = scene.address(state.address) if known else state.address.format(**scene.arguments)
        page.unroute_all()
        answer = page.goto(path)
        assert answer.status == state.status, (state.name, answer.status)
    for action in state.actions:
        action(page)
    page.wait_for_selector(state.shows)


@pytest.mark.parametrize("name", GROUPS)
def test_nothing_is_wrong_with_any_state(scene: Scene, seat, name: str):
    group = GROUPS[name]
    page = seat(group)
    for_thumbs = group.is_for_families and ("media", "print") not in group.look.media
    found = {}
    for state in group.states:
        try:
            come_to(page, scene, state)
            letter = page.evaluate(
                "parseFloat(getComputedStyle(document.documentElement).fontSize)"
            )
            assert letter == USUAL_LETTER * group.look.letters
            assert page.get_attribute("html", "lang") == (group.look.language or "en-gb")
            found[state.name] = wrong_with(page, for_thumbs)
        except (AssertionError, FaultOfBrowser) as fault:
            found[state.name] = [f"not come to: {fault}"]
    assert {state: wrong for state, wrong in found.items() if wrong} == {}


def test_at_least_forty_states_are_named_and_none_twice():
    names = [(group.name, state.name) for group in GROUPS.values() for state in group.states]
    assert len(set(names)) == len(names)
    assert len({state.name for group in GROUPS.values() for state in group.states}) >= FEWEST
