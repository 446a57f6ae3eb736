"""The card as a browser prints it, without the PDF."""

import pypdfium2
import pytest
from django.urls import reverse

from tasks.models import DayPlan
from tests.tasks.builders import drafted_week, gone_out
from tests.village import MONDAY

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_browsers_own_print_of_a_card_is_two_sides_with_its_answers(village, opened, paper):
    drafted_week(village)
    gone_out(DayPlan.objects.get(school_class=village.robins, date=MONDAY))
    page = opened("family", reverse("tasks:card", args=[village.aisha.pk, MONDAY]))

    sides = pypdfium2.PdfDocument(page.pdf(format=paper))

    text = " ".join(side.get_textpage().get_text_bounded() for side in sides)
    assert len(sides) <= 2
    for part in ("Warm-up count", "Main task", "Try at home"):
        assert part in text
    assert "On this card" not in text
    for answer in page.locator(".card-right li bdi").all_text_contents():
        assert answer.split()[-1] in text
