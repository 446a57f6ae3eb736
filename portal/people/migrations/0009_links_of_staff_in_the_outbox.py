"""The mails with links of staff are leased as all mails are."""

import datetime as dt

from django.db import migrations, models
from django.db.models import F

LEASE = dt.timedelta(minutes=10)  # what the program before this one gave a worker


def carry_over(apps, schema_editor):
    """Keep the claims on mails that are not out."""
    posts = apps.get_model("people", "StaffPost").objects
    claimed = posts.filter(link_claimed_at__isnull=False)
    claimed.update(leased_until=F("link_claimed_at") + LEASE)


class Migration(migrations.Migration):
    dependencies = [("people", "0008_invitations_in_the_outbox")]

    operations = [
        migrations.AddField(
            "staffpost", "mailed_at", models.DateTimeField(null=True, blank=True)
        ),
        migrations.AddField(
            "staffpost", "leased_until", models.DateTimeField(null=True, blank=True)
        ),
        migrations.AddField("staffpost", "attempts", models.PositiveSmallIntegerField(default=0)),
        migrations.AddField("staffpost", "crashes", models.PositiveSmallIntegerField(default=0)),
        migrations.AddField(
            "staffpost",
            "refusal",
            models.CharField(max_length=60, blank=True, default="", editable=False),
            preserve_default=False,
        ),
        migrations.RunPython(carry_over, migrations.RunPython.noop, elidable=True),
        migrations.RemoveField("staffpost", "link_claimed_at"),
    ]
