"""Nights are leased as all rows are that a worker works on."""

import datetime as dt

from django.db import migrations, models
from django.db.models import F

LEASE = dt.timedelta(hours=1)  # what the program before this one gave a worker


def carry_over(apps, schema_editor):
    """Keep the claims on nights that are not done."""
    undone = apps.get_model("privacy", "PurgeRun").objects.filter(done_at=None)
    undone.filter(claimed_at__isnull=False).update(leased_until=F("claimed_at") + LEASE)


class Migration(migrations.Migration):
    dependencies = [("privacy", "0003_copies_are_leased")]

    operations = [
        migrations.AddField(
            "purgerun", "leased_until", models.DateTimeField(null=True, blank=True)
        ),
        migrations.AddField("purgerun", "attempts", models.PositiveSmallIntegerField(default=0)),
        migrations.AddField("purgerun", "crashes", models.PositiveSmallIntegerField(default=0)),
        migrations.RunPython(carry_over, migrations.RunPython.noop, elidable=True),
        migrations.RemoveField("purgerun", "claimed_at"),
    ]
