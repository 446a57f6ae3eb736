"""Published sets of goals that were stored by an earlier program say what their files say now."""

import pytest
from django.core.management import call_command
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from assessment.frameworks import framework_by_id
from assessment.models import Framework, Goal

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.servers]
RECEPTION = "development-matters-reception"
BEFORE = [("assessment", "0004_mistakes_of_a_school")]


def test_a_stored_set_gets_its_words_what_it_asks_and_what_was_missing(village):
    executor = MigrationExecutor(connection)
    executor.migrate(BEFORE)
    old = executor.loader.project_state(BEFORE).apps
    shipped = old.get_model("assessment", "Framework").objects.create(slug=RECEPTION, title="Old")
    own = old.get_model("assessment", "Framework").objects.create(
        slug="ours", title="Ours", school_id=village.school.pk
    )
    for framework in (shipped, own):
        old.get_model("assessment", "Goal").objects.create(
            framework=framework, code="DM-R-2", strand="Number", text="See how many.", position=0
        )
    call_command("migrate", verbosity=0, interactive=False)
    now = framework_by_id(RECEPTION)
    assert Framework.objects.get(slug=RECEPTION).title == now.title
    stored = Goal.objects.filter(framework=shipped.pk)
    assert {goal.code: goal.asked for goal in stored} == {
        goal.code: goal.asks for goal in now.goals
    }
    assert stored.get(code="DM-R-2").text == "Subitise."
    kept = Goal.objects.get(framework=own.pk)
    assert (kept.text, kept.asks) == ("See how many.", {})
