"""When a home read the reply to what it sent. What was answered before is taken as read."""

from django.db import migrations, models
from django.db.models import F


def take_as_opened(apps, schema_editor):
    """Let nothing that was answered long ago come back as if it were new."""
    answered = apps.get_model("evidence", "Submission").objects.filter(looked_at__isnull=False)
    answered.update(opened_at=F("looked_at"))


class Migration(migrations.Migration):
    dependencies = [("evidence", "0004_nonsubmissions")]

    operations = [
        migrations.AddField(
            "submission",
            "opened_at",
            models.DateTimeField(null=True, blank=True, editable=False),
        ),
        migrations.RunPython(take_as_opened, migrations.RunPython.noop, elidable=True),
    ]
