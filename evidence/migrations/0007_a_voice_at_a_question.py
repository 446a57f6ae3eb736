"""A voice note can belong to the question of which a child says how it knows."""

from django.db import migrations, models
from django.db.models.deletion import SET_NULL


class Migration(migrations.Migration):
    dependencies = [
        ("evidence", "0006_reminders_in_the_outbox"),
        ("tasks", "0003_order_and_length_of_a_day"),
    ]

    operations = [
        migrations.AddField(
            model,
            "prompt",
            models.ForeignKey(
                null=True, on_delete=SET_NULL, related_name="+", to="tasks.taskprompt"
            ),
        )
        for model in ("piece", "upload")
    ]
