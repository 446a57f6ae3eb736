from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("evidence", "0002_form_key")]

    operations = [
        migrations.RemoveIndex(model_name="submission", name="submission_waiting"),
        migrations.AddIndex(
            model_name="submission",
            index=models.Index(
                fields=["child", "withdrawn_at", "looked_at", "sent_at"],
                name="submission_waiting_of_child",
            ),
        ),
    ]
