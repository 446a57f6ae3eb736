from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("tasks", "0004_words_that_ask_for_less")]

    operations = [
        migrations.AddField(
            model_name="task", name="only", field=models.JSONField(blank=True, default=dict)
        ),
    ]
