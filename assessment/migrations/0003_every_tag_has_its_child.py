import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    """By itself: PostgreSQL changes no table on which the same transaction changed rows."""

    dependencies = [("assessment", "0002_tags_by_child"), ("people", "0001_initial")]

    operations = [
        migrations.AlterField(
            model_name="tag",
            name="child",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.CASCADE,
                related_name="tags",
                to="people.child",
            ),
        ),
        migrations.AlterField(
            model_name="tag",
            name="shown_at",
            field=models.DateTimeField(help_text="When the work was sent."),
        ),
        migrations.AddIndex(
            model_name="tag",
            index=models.Index(
                fields=["child", "goal", "-shown_at", "-id", "how"], name="tag_shown"
            ),
        ),
    ]
