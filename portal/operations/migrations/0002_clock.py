"""The last moment that was believed: so far, that of the last job of the beat."""

from django.db import migrations, models


def believe_last_tick(apps, schema_editor):
    """Take over what is known: without it, a leap before the next tick would be believed."""
    Mark = apps.get_model("upkeep", "Mark")
    for mark in Mark.objects.filter(name="tick"):
        Mark.objects.get_or_create(name="clock", defaults={"at": mark.at})


class Migration(migrations.Migration):
    dependencies = [
        ('upkeep', '0001_first_release'),
    ]

    operations = [
        migrations.AlterField(
            model_name='mark',
            name='name',
            field=models.CharField(choices=[('tick', 'a job of the beat'), ('backup', 'backup'), ('drill', 'restore drill'), ('scrub', 'comparing of files'), ('clock', 'a moment that was believed')], max_length=20, primary_key=True, serialize=False),
        ),
        migrations.RunPython(believe_last_tick, migrations.RunPython.noop),
    ]
