"""Migrations of what is set run on a database that is in use."""

import datetime as dt

import pytest
from django.apps import apps
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from tasks.models import DayPlan, Task
from tests.tasks.builders import drafted, gone_out, keys, send_work
from tests.village import Village

BEFORE = [("tasks", "0002_who_changed_a_plan_and_when_a_task_was_drawn")]


def migrate(targets: list[tuple[str, str]]) -> None:
    executor = MigrationExecutor(connection)
    executor.migrate(targets)


def latest() -> list[tuple[str, str]]:
    return list(MigrationExecutor(connection).loader.graph.leaf_nodes())


@pytest.mark.servers
@pytest.mark.django_db(transaction=True)
def test_sequences_come_to_a_portal_that_is_in_use_and_change_nothing_there():
    village = Village.build()
    plan = gone_out(drafted(village, "main_task", "quick_recall"))
    work = send_work(village, plan)
    before = {task.part: keys(task) for task in plan.tasks.all()}
    try:
        migrate(BEFORE)
        with connection.cursor() as cursor:
            columns = connection.introspection.get_table_description(cursor, "tasks_dayplan")
        assert "sequence_id" not in {column.name for column in columns}
    finally:
        migrate(latest())

    after = DayPlan.objects.get()
    assert (after.sequence, after.goes_out_at, after.version) == (
        None,
        plan.goes_out_at,
        plan.version,
    )
    assert {task.part: keys(task) for task in Task.objects.all()} == before
    assert {task.number for task in Task.objects.all()} == {None}
    work.refresh_from_db()
    assert work.day_plan == after
    assert not apps.get_model("tasks", "Sequence").objects.exists()
    drafted(village, date=plan.date + dt.timedelta(days=1))
