"""Reminders are leased as all mails are, and each browser has a reminder of its own."""

from django.db import migrations, models
from django.db.models import OuterRef, Subquery
from django.utils import timezone


def carry_over(apps, schema_editor):
    """Note of the reminders that were claimed that they are out: none goes out again that day."""
    reminders = apps.get_model("evidence", "Reminder").objects.filter(last_day__isnull=False)
    reminders.update(mailed_at=timezone.now())
    places = apps.get_model("evidence", "PushPlace").objects
    last = reminders.filter(adult=OuterRef("adult")).values("last_day")
    places.update(woken_on=Subquery(last))


LEASED = [
    ("leased_until", models.DateTimeField(null=True, blank=True)),
    ("attempts", models.PositiveSmallIntegerField(default=0)),
    ("crashes", models.PositiveSmallIntegerField(default=0)),
]


class Migration(migrations.Migration):
    dependencies = [("evidence", "0005_when_its_reply_was_opened")]

    operations = [
        *[
            migrations.AddField(model, name, field)
            for model in ("reminder", "pushplace")
            for name, field in LEASED
        ],
        migrations.AddField("reminder", "mailed_at", models.DateTimeField(null=True, blank=True)),
        migrations.AddField(
            "reminder",
            "refusal",
            models.CharField(max_length=60, blank=True, default="", editable=False),
            preserve_default=False,
        ),
        migrations.AddField(
            "pushplace", "woken_on", models.DateField(null=True, blank=True, editable=False)
        ),
        migrations.RunPython(carry_over, migrations.RunPython.noop, elidable=True),
    ]
