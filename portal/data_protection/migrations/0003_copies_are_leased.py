"""Copies are leased as all rows are that a worker works on."""

import datetime as dt

from django.db import migrations, models
from django.db.models import F

LEASE = dt.timedelta(minutes=5)  # what the program before this one gave a worker


def carry_over(apps, schema_editor):
    """Keep the claims on copies that are not made, and what failed as failed.

    An attempt that the update cut short is not counted.
    """
    unmade = apps.get_model("privacy", "Copy").objects.filter(ready_at=None)
    unmade.filter(claimed_at__isnull=False).update(leased_until=F("claimed_at") + LEASE)
    unmade.filter(claimed_at=None).update(crashes=F("attempts"))


class Migration(migrations.Migration):
    dependencies = [("privacy", "0002_names_of_the_trade")]

    operations = [
        migrations.AddField("copy", "leased_until", models.DateTimeField(null=True, blank=True)),
        migrations.AddField("copy", "crashes", models.PositiveSmallIntegerField(default=0)),
        migrations.RunPython(carry_over, migrations.RunPython.noop, elidable=True),
        migrations.RemoveField("copy", "claimed_at"),
    ]
