"""Keep of each answer how much help there was with its part, and how long its picture was seen."""

from django.apps.registry import Apps
from django.db import migrations, models
from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.models import OuterRef, Subquery


def carry_over(apps: Apps, editor: BaseDatabaseSchemaEditor) -> None:
    """Take what was said for the whole day as said for each part that was answered."""
    answers = apps.get_model("evidence", "Answer").objects.using(editor.connection.alias)
    submissions = apps.get_model("evidence", "Submission").objects.using(editor.connection.alias)
    said = submissions.filter(pk=OuterRef("submission")).order_by().values("help")[:1]
    answers.exclude(submission__help="").update(help=Subquery(said))


HELP = [
    ("alone", "all alone"),
    ("a little", "with a little help"),
    ("together", "we did it together"),
]


class Migration(migrations.Migration):
    dependencies = [("evidence", "0007_a_voice_at_a_question")]

    operations = [
        migrations.AddField(
            "answer",
            "help",
            models.CharField(
                "help given", max_length=10, choices=HELP, blank=True, default=""
            ),
            preserve_default=False,
        ),
        migrations.AddField(
            "answer",
            "glimpse",
            models.PositiveIntegerField(null=True, blank=True),
        ),
        migrations.RunPython(carry_over, migrations.RunPython.noop, elidable=True),
    ]
