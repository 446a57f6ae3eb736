"""Names alone: the table keeps the name it has, so that no row is touched."""

from django.db import migrations


class Migration(migrations.Migration):
    dependencies = [("privacy", "0004_nights_are_leased")]

    operations = [
        migrations.AlterModelTable(name="Copy", table="privacy_copy"),
        migrations.RenameModel(old_name="Copy", new_name="DataExport"),
        migrations.AlterModelOptions(
            name="DataExport", options={"ordering": ["-asked_at", "-pk"]}
        ),
    ]
