import django.db.models.deletion
from django.db import migrations, models
from django.db.models import OuterRef, Subquery


def copy_from_submissions(apps, schema_editor):
    """Give each tag the child and time of its submission; drop those of looks taken back."""
    alias = schema_editor.connection.alias
    tags = apps.get_model("assessment", "Tag").objects.using(alias)
    tags.filter(submission__looked_at__isnull=True).delete()
    work = apps.get_model("evidence", "Submission").objects.filter(pk=OuterRef("submission"))
    tags.update(
        child=Subquery(work.values("child")[:1]), shown_at=Subquery(work.values("sent_at")[:1])
    )


class Migration(migrations.Migration):
    dependencies = [
        ("assessment", "0001_initial"),
        ("evidence", "0001_initial"),
        ("people", "0001_initial"),
    ]

    operations = [
        migrations.AddField(
            model_name="tag",
            name="child",
            field=models.ForeignKey(
                null=True,
                on_delete=django.db.models.deletion.CASCADE,
                related_name="tags",
                to="people.child",
            ),
        ),
        migrations.AddField(
            model_name="tag",
            name="shown_at",
            field=models.DateTimeField(null=True, help_text="When the work was sent."),
        ),
        migrations.RunPython(copy_from_submissions, migrations.RunPython.noop, elidable=True),
    ]
