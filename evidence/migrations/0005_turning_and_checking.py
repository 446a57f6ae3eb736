"""Which way the clean copies are turned, and when each was last found to be what it was."""

import django.utils.timezone
from django.db import migrations, models
from django.db.models import F, Q


def copies_are_turned_as_asked(apps, schema_editor):
    """Note of every piece there is that its copies were made with the turn its sender chose."""
    piece = apps.get_model("evidence", "Piece")
    piece.objects.using(schema_editor.connection.alias).exclude(turn=0).update(turned=F("turn"))


class Migration(migrations.Migration):
    dependencies = [("evidence", "0004_resumable_uploads")]

    operations = [
        migrations.AddField(
            model_name="piece",
            name="turned",
            field=models.PositiveSmallIntegerField(
                default=0, editable=False, help_text="The turn that the clean copies have."
            ),
        ),
        migrations.AddField(
            model_name="rendition",
            name="checked_at",
            field=models.DateTimeField(default=django.utils.timezone.now, editable=False),
        ),
        migrations.AddField(
            model_name="rendition",
            name="damaged_at",
            field=models.DateTimeField(editable=False, null=True),
        ),
        migrations.RunPython(copies_are_turned_as_asked, migrations.RunPython.noop),
        migrations.AddConstraint(
            model_name="piece",
            constraint=models.CheckConstraint(
                condition=Q(turned__in=[0, 90, 180, 270]), name="turned_is_a_quarter"
            ),
        ),
        migrations.AddIndex(
            model_name="piece",
            index=models.Index(
                condition=~Q(turned=F("turn")) & Q(state="ready"),
                fields=["leased_until"],
                name="piece_to_turn",
            ),
        ),
        migrations.AddIndex(
            model_name="rendition",
            index=models.Index(fields=["checked_at"], name="rendition_checked"),
        ),
        migrations.AddIndex(
            model_name="rendition",
            index=models.Index(
                condition=Q(damaged_at__isnull=False),
                fields=["checked_at"],
                name="rendition_damaged",
            ),
        ),
    ]
