"""The page before the class: the plan alone, for staff of the class alone."""

import pytest
from django.contrib.messages import get_messages
from django.contrib.messages.storage import default_storage
from django.test import Client, RequestFactory
from django.urls import reverse

from tasks.numberwork import prompt_to_json
from tasks.plans import planning
from tasks.plans.defaults import usual_day
from tasks.plans.prompt_selection import Choice
from tests.tasks.builders import drafted, empty_day, gone_out, queries_of, seen, send_work
from tests.village import MONDAY, Village

HALVING = Choice("halving", 10, 3, "core")


def in_class(village: Village, more: str = "") -> str:
    return reverse("tasks:in-class", args=[village.robins.pk, MONDAY]) + more


def read(client: Client, address: str) -> str:
    response = client.get(address)
    assert response.status_code == 200
    return response.content.decode()
