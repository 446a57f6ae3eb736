"""The lead sees in which months each class looked at each goal: neither numbers nor children."""

import re

from freezegun import freeze_time

from tests.assessment.builders import goal
from tests.assessment.progress.builders import shown
from tests.village import MONDAY

PAGE = "/school/goals/"


@freeze_time("2026-12-11 12:00")
def test_the_lead_sees_when_each_class_looked_at_a_goal_and_no_number_or_child(village, signed_in):
    shown(village, village.aisha, "iis")
    shown(village, village.ben, "n", start=MONDAY.replace(month=12, day=7))
    html = signed_in("lead").get(PAGE).content.decode()
    main = html.partition("<main")[2]
    address = f"/classes/{village.robins.pk}/goals/{goal().pk}/"
    cell = re.search(rf'<a href="{address}">.*?</a>', main)[0]
    assert cell.endswith('<span class="only-read-out">Nov, Dec</span></a>')
    assert main.count("<td") == main.count("nothing tagged") + 1
    assert "Aisha" not in main
    assert main.index("Robins") < main.index("Wrens")


def test_only_a_lead_has_the_page_and_of_the_own_school_alone(village, signed_in):
    for role in ("teacher", "assistant", "office", "family"):
        assert signed_in(role).get(PAGE).status_code == 404
    assert "Robins" not in signed_in("foreign lead").get(PAGE).content.decode()
