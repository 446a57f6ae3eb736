"""Put the usual words of stored tasks in place of those they had, where nobody has edited them."""

from django.apps.registry import Apps
from django.db import migrations
from django.db.backends.base.schema import BaseDatabaseSchemaEditor

SAY = {"Say it with me. What comes next? How do you know?": "What comes next? How do you know?"}
WORDS = {
    "Find the things at home and try it out. A photo of what you made is plenty.": (
        "Find the things at home and try it out."
    )
}


def reword(apps: Apps, editor: BaseDatabaseSchemaEditor) -> None:
    """Change what is said only where it is word for word what it was by default."""
    tasks = apps.get_model("tasks", "Task").objects.using(editor.connection.alias)
    for before, now in SAY.items():
        tasks.filter(say=before).update(say=now)
    for before, now in WORDS.items():
        tasks.filter(words=before).update(words=now)


class Migration(migrations.Migration):
    dependencies = [("tasks", "0003_order_and_length_of_a_day")]

    operations = [migrations.RunPython(reword, migrations.RunPython.noop)]
