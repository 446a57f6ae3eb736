"""First steps for new accounts; those that are there already know their way."""

import django.utils.timezone
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("people", "0006_what_is_done_with_data")]

    operations = [
        migrations.AddField(
            model_name="user",
            name="first_steps_since",
            field=models.DateTimeField(default=None, editable=False, null=True),
        ),
        migrations.AlterField(
            model_name="user",
            name="first_steps_since",
            field=models.DateTimeField(
                default=django.utils.timezone.now, editable=False, null=True
            ),
        ),
    ]
