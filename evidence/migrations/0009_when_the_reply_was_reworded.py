"""When the words of a reply were last changed: its home reads those before for a moment."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("evidence", "0008_help_and_glimpse_of_an_answer")]

    operations = [
        migrations.AddField(
            "submission",
            "said_at",
            models.DateTimeField(null=True, blank=True, editable=False),
        ),
    ]
