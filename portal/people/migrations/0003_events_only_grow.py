"""Settle children in their homes, and have the database refuse to change a written event."""

from django.db import migrations

SQLITE = """
CREATE TRIGGER event_is_never_changed BEFORE UPDATE ON people_event
BEGIN SELECT RAISE(ABORT, 'an event is never changed'); END
"""
POSTGRESQL = """
CREATE FUNCTION refuse_to_change_event() RETURNS trigger LANGUAGE plpgsql AS
$$ BEGIN RAISE EXCEPTION 'an event is never changed'; END $$;
CREATE TRIGGER event_is_never_changed BEFORE UPDATE ON people_event
FOR EACH ROW EXECUTE FUNCTION refuse_to_change_event()
"""


def settle_children(apps, schema_editor):
    """Note which children live in which home, by who has come in and who was invited."""
    lives = apps.get_model("people", "Home").children.through
    pairs = set()
    for name in ("Guardianship", "Invitation"):
        pairs |= set(apps.get_model("people", name).objects.values_list("home", "child"))
    lives.objects.bulk_create(lives(home_id=home, child_id=child) for home, child in pairs)


def guard(apps, schema_editor):
    statement = {"sqlite": SQLITE, "postgresql": POSTGRESQL}.get(schema_editor.connection.vendor)
    if statement:
        schema_editor.execute(statement)


def unguard(apps, schema_editor):
    if schema_editor.connection.vendor == "postgresql":
        schema_editor.execute("DROP FUNCTION refuse_to_change_event() CASCADE")
    else:
        schema_editor.execute("DROP TRIGGER event_is_never_changed")


class Migration(migrations.Migration):
    # Rows and tables in turn: PostgreSQL alters no table with pending trigger events.
    dependencies = [("people", "0002_keeping_the_door")]
    operations = [
        migrations.RunPython(settle_children, migrations.RunPython.noop),
        migrations.RunPython(guard, unguard),
    ]
