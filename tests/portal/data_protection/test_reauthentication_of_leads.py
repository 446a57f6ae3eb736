"""Whatever a lead does with one child's data needs a sign-in of the last few minutes."""

import pytest
from django.urls import reverse

from portal.data_protection.models import DataExport

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
PAGES = ("child", "paper", "hold", "child-copy", "erase")


@pytest.mark.parametrize("name", PAGES)
def test_a_lead_who_signed_in_a_while_ago_proves_it_anew(village, signed_in, name):
    address = reverse(f"privacy:{name}", args=[village.aisha.pk])
    lead = signed_in("lead")
    answers = [lead.post(address)] if name != "child" else [lead.get(address)]
    assert [answer["Location"] for answer in answers] == [reverse("people:again")]
    assert not DataExport.objects.exists()
