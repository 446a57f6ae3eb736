"""The mails of invitations are leased as all mails are."""

import datetime as dt

from django.db import migrations, models
from django.db.models import F

LEASE = dt.timedelta(minutes=10)  # what the program before this one gave a worker


def carry_over(apps, schema_editor):
    """Keep the claims on mails that are not out."""
    unsent = apps.get_model("people", "Invitation").objects.filter(mailed_at=None)
    claimed = unsent.filter(mail_claimed_at__isnull=False)
    claimed.update(leased_until=F("mail_claimed_at") + LEASE)


class Migration(migrations.Migration):
    dependencies = [("people", "0007_sign_in_attempts")]

    operations = [
        migrations.AddField(
            "invitation", "leased_until", models.DateTimeField(null=True, blank=True)
        ),
        migrations.AddField("invitation", "attempts", models.PositiveSmallIntegerField(default=0)),
        migrations.AddField("invitation", "crashes", models.PositiveSmallIntegerField(default=0)),
        migrations.AddField(
            "invitation",
            "refusal",
            models.CharField(max_length=60, blank=True, default="", editable=False),
            preserve_default=False,
        ),
        migrations.RunPython(carry_over, migrations.RunPython.noop, elidable=True),
        migrations.RemoveField("invitation", "mail_claimed_at"),
    ]
