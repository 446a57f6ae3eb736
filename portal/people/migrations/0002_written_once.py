"""The database refuses to change a written event, and what a home has agreed to."""

from django.db import migrations

GUARDS = {
    "event": ("people_event", "UPDATE", "an event is never changed"),
    "consent": (
        "people_consent",
        "UPDATE OF party, purpose, given, wording, at, on_paper",
        "a consent is never changed",
    ),
}
SQLITE = """
CREATE TRIGGER {name}_is_never_changed BEFORE {change} ON {table}
BEGIN SELECT RAISE(ABORT, '{why}'); END
"""
POSTGRESQL = """
CREATE FUNCTION refuse_to_change_{name}() RETURNS trigger LANGUAGE plpgsql AS
$$ BEGIN RAISE EXCEPTION '{why}'; END $$;
CREATE TRIGGER {name}_is_never_changed BEFORE {change} ON {table}
FOR EACH ROW EXECUTE FUNCTION refuse_to_change_{name}()
"""


def guard(apps, schema_editor):
    statement = {"sqlite": SQLITE, "postgresql": POSTGRESQL}[schema_editor.connection.vendor]
    for name, (table, change, why) in GUARDS.items():
        schema_editor.execute(statement.format(name=name, table=table, change=change, why=why))


def unguard(apps, schema_editor):
    for name in GUARDS:
        if schema_editor.connection.vendor == "postgresql":
            schema_editor.execute(f"DROP FUNCTION refuse_to_change_{name}() CASCADE")
        else:
            schema_editor.execute(f"DROP TRIGGER {name}_is_never_changed")


class Migration(migrations.Migration):
    replaces = [
        ("people", "0003_events_only_grow"),
        ("people", "0005_consents"),
    ]
    dependencies = [("people", "0001_first_release")]
    operations = [migrations.RunPython(guard, unguard)]
