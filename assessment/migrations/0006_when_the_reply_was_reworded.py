"""A look as it was before a change knows since when its words stood."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("assessment", "0005_what_goals_ask")]

    operations = [
        migrations.AddField("pastlook", "said_at", models.DateTimeField(null=True, blank=True)),
    ]
