"""Mails of the week are leased as all mails are."""

import datetime as dt

from django.db import migrations, models
from django.db.models import F, Q

# What the program before this one waited after each attempt.
PAUSES = [dt.timedelta(minutes=minutes) for minutes in (10, 60, 6 * 60, 24 * 60)]


def carry_over(apps, schema_editor):
    """Keep what unsent mails wait for: each attempt so far counts as a refusal."""
    unsent = apps.get_model("assessment", "SummaryMail").objects.filter(mailed_at=None)
    for attempts, pause in enumerate([*PAUSES, dt.timedelta()], start=1):
        # One UPDATE a row: after a second one PostgreSQL alters the table no more.
        tried = unsent.filter(attempts=attempts)
        tried.update(crashes=attempts, leased_until=F("claimed_at") + pause)


class Migration(migrations.Migration):
    dependencies = [("assessment", "0002_what_crashed_its_decoder")]

    operations = [
        migrations.RemoveIndex("summarymail", "mail_to_send"),
        migrations.RenameField("summarymail", "sent_at", "mailed_at"),
        migrations.AddField(
            "summarymail", "leased_until", models.DateTimeField(null=True, blank=True)
        ),
        migrations.AddField("summarymail", "crashes", models.PositiveSmallIntegerField(default=0)),
        migrations.AddField(
            "summarymail",
            "refusal",
            models.CharField(max_length=60, blank=True, default="", editable=False),
            preserve_default=False,
        ),
        migrations.RunPython(carry_over, migrations.RunPython.noop, elidable=True),
        migrations.RemoveField("summarymail", "claimed_at"),
        migrations.AddIndex(
            "summarymail",
            models.Index(
                fields=["leased_until"], condition=Q(mailed_at=None), name="mail_to_send"
            ),
        ),
    ]
