"""The mails with sign-in codes are leased as all mails are."""

import datetime as dt

from django.db import migrations, models
from django.db.models import F

CODE_LIFE = dt.timedelta(minutes=10)  # in the program before this one


def carry_over(apps, schema_editor):
    """Note of the codes that were drawn that they are out; the others wait."""
    drawn = apps.get_model("people", "SignInCode").objects.exclude(code_hash="")
    drawn.update(mailed_at=F("expires_at") - CODE_LIFE)


class Migration(migrations.Migration):
    dependencies = [("people", "0010_plain_labels")]

    operations = [
        migrations.AddField(
            "signincode", "mailed_at", models.DateTimeField(null=True, blank=True)
        ),
        migrations.AddField(
            "signincode", "leased_until", models.DateTimeField(null=True, blank=True)
        ),
        migrations.AddField("signincode", "attempts", models.PositiveSmallIntegerField(default=0)),
        migrations.AddField("signincode", "crashes", models.PositiveSmallIntegerField(default=0)),
        migrations.AddField(
            "signincode",
            "refusal",
            models.CharField(max_length=60, blank=True, default="", editable=False),
            preserve_default=False,
        ),
        migrations.RunPython(carry_over, migrations.RunPython.noop, elidable=True),
    ]
