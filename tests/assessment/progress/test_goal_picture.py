"""A class by its goals in a browser: all on one screen, told by shapes, opened by a press."""

import datetime as dt
import re

import pytest
from playwright.sync_api import expect

from assessment.goals.goal_sets import framework_of
from assessment.models import Tag
from portal.people.models import Child
from tests.access.walk import session_of
from tests.assessment.builders import fill_class, goal, send, set_day
from tests.browsers import WAIT
from tests.standard import faults_of

GOALS, CHILDREN = 17, 30
HOWS = Tag.How.values


@pytest.fixture
def full(village):
    """Give Robins thirty children and seventeen goals, with up to three tags of each."""
    village.school.requires_second_factor = False
    village.school.save()
    first = goal()
    framework = framework_of(village.robins)
    text = "Say how many there are in a group of up to ten things without counting them, number %s"
    for place in range(framework.goals.count(), GOALS):
        framework.goals.create(
            code=f"X{place}", strand="Number", text=text % place, kinds=["halving"], position=place
        )
    fill_class(village, CHILDREN - Child.objects.filter(school_class=village.robins).count())
    Child.objects.filter(pk=village.ben.pk).update(first_name="Maximiliana-Rose")
    today = village.school.today()
    tags = []
    for back in (16, 9, 2):
        plan = set_day(village.robins, today - dt.timedelta(days=back))
        for number, child in enumerate(Child.objects.filter(school_class=village.robins)):
            work = send(child, village.first_home, plan, help="alone")
            tags += [
                Tag.on(work, each.pk, HOWS[(number + back + place) % 4], tagged_by=None)
                for place, each in enumerate(framework.goals.all())
                if (number * 7 + place * 3 + back) % 5
            ]
    Tag.objects.bulk_create(tags)
    village.first = first
    return village


@pytest.fixture
def seat(browser, live_server, full):
    """Return a function that seats the teacher before the class by its goals."""
    contexts = []

    def sit(width, height=800, **more):
        context = browser.new_context(viewport={"width": width, "height": height}, **more)
        context.set_default_timeout(WAIT)
        contexts.append(context)
        key = session_of(full.people["teacher"])
        context.add_cookies([{"name": "session", "value": key, "url": live_server.url}])
        page = context.new_page()
        page.goto(f"{live_server.url}/classes/{full.robins.pk}/goals/")
        return page

    yield sit
    for context in contexts:
        context.close()


def test_thirty_children_and_seventeen_goals_fit_one_screen_and_a_press_says_what_is_there(seat):
    page = seat(1280)
    assert page.evaluate("window.scrollY") == 0
    box = page.locator("[data-goal-picture]").bounding_box()
    below = page.locator("[data-cell-said]").bounding_box()
    assert box["x"] >= 0
    assert box["x"] + box["width"] <= 1280
    assert box["y"] + box["height"] <= below["y"] < below["y"] + below["height"] <= 800
    assert page.locator("tbody tr").count() == GOALS
    assert page.locator("tbody tr").first.locator("td").count() == CHILDREN
    assert faults_of(page) == []
    marks = page.locator("tbody tr").nth(3).locator("td a").nth(4)
    words = marks.inner_text()
    marks.click()
    said = page.locator("[data-cell-said]")
    expect(said.locator("article")).to_have_count(len(words.split(", ")))
    expect(said).to_contain_text("all alone")
    for day in re.findall(r"\d+ [A-Z][a-z]+", words):
        expect(said).to_contain_text(day.split()[0])
    assert said.get_by_role("link", name=re.compile(r"\d{4}$")).count() == len(words.split(", "))
    foot = said.bounding_box()
    assert foot["y"] + foot["height"] <= 800


def test_arrow_keys_go_from_mark_to_mark_and_one_tab_leaves_them(seat):
    page = seat(1280)
    first = page.locator("tbody td a").first
    first.focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowRight")
    place = "[a => a.closest('tr').sectionRowIndex, a => a.closest('td').cellIndex]"
    here = page.evaluate(f"{place}.map(of => of(document.activeElement))")
    assert here[0] >= 1
    assert here[1] >= 2
    page.keyboard.press("Enter")
    expect(page.locator("[data-cell-said] article").first).to_be_visible()
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('tbody td')") is None


def test_a_telephone_shows_one_goal_a_screen_and_the_others_are_a_press_away(seat):
    page = seat(390, color_scheme="dark")
    assert page.locator("tbody tr:visible").count() == 1
    assert page.locator("tbody td:visible").count() == CHILDREN
    assert faults_of(page) == []
    page.get_by_text("Choose a goal").click()
    choice = page.get_by_role("navigation", name="Goals").get_by_role("link")
    wanted = choice.nth(4).inner_text()
    choice.nth(4).click()
    expect(page.locator("tbody tr:visible")).to_have_count(1)
    expect(page.locator("tbody tr:visible th")).to_have_text(wanted)
    page.locator("tbody tr:visible td a").first.click()
    expect(page.locator("[data-cell-said] article").first).to_be_visible()
    assert faults_of(page) == []


SHAPES = "marks => marks.map(mark => mark.querySelector('g').innerHTML)"


@pytest.mark.parametrize("dark", ["light", "dark"])
def test_the_marks_differ_by_shape_and_stand_out_without_any_colour(seat, dark):
    page = seat(1280, color_scheme=dark, forced_colors="active")
    legend = page.locator(".marks-legend svg")
    assert len(set(legend.evaluate_all(SHAPES))) == len(HOWS)
    pictures = {legend.nth(place).screenshot() for place in range(len(HOWS))}
    assert len(pictures) == len(HOWS)


def test_without_scripts_a_press_opens_the_page_of_the_pieces(seat):
    page = seat(1280, java_script_enabled=False)
    page.locator("tbody td a").first.click()
    expect(page.locator("article.work").first).to_be_visible()
