"""How common mistakes are in a school; and what was found by the older way of spotting is lost."""

import django.db.models.deletion
from django.db import migrations, models


def empty(apps, schema_editor):
    """Empty what is made anew from answers: it was found by a model that named too much."""
    apps.get_model("assessment", "MistakesFound").objects.all().delete()


class Migration(migrations.Migration):
    dependencies = [
        ("assessment", "0003_mails_in_the_outbox"),
        ("people", "0011_codes_in_the_outbox"),
    ]

    operations = [
        migrations.RunPython(empty, migrations.RunPython.noop, elidable=True),
        migrations.CreateModel(
            name="MistakeShares",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("kind", models.CharField(max_length=60)),
                ("sets", models.PositiveIntegerField(help_text="From how many answered tasks.")),
                ("shares", models.JSONField(default=list)),
                ("reckoned_at", models.DateTimeField()),
                (
                    "school",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to="people.school",
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(fields=("school", "kind"), name="shares_once_a_kind")
                ],
            },
        ),
    ]
