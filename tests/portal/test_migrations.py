"""A database that was made before the migrations of the first release were drawn together."""

import pytest
from django.core.management import call_command
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.recorder import MigrationRecorder

from portal.people.models import Child
from tests.village import Village


def to_do() -> list[str]:
    executor = MigrationExecutor(connection)
    return [
        str(each) for each, _back in executor.migration_plan(executor.loader.graph.leaf_nodes())
    ]


@pytest.mark.servers
@pytest.mark.django_db(transaction=True)
def test_a_portal_from_before_the_first_release_goes_on_with_what_it_holds():
    Village.build()
    children = Child.objects.count()
    recorder = MigrationRecorder(connection)
    for (app, name), migration in MigrationExecutor(connection).loader.disk_migrations.items():
        if migration.replaces:
            recorder.record_unapplied(app, name)
        for old in migration.replaces:
            recorder.record_applied(*old)

    assert to_do() == []
    call_command("migrate", verbosity=0, interactive=False)
    assert Child.objects.count() == children
    assert ("people", "0001_first_release") in recorder.applied_migrations()


@pytest.mark.django_db
def test_a_new_portal_has_nothing_left_to_apply():
    assert to_do() == []
