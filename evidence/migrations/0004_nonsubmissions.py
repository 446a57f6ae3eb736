"""Names alone: each table keeps the name it has, so that no row is touched."""

from django.db import migrations


class Migration(migrations.Migration):
    dependencies = [("evidence", "0003_to_turn_in_order")]

    operations = [
        migrations.AlterModelTable(name="CouldNot", table="evidence_couldnot"),
        migrations.RenameModel(old_name="CouldNot", new_name="Nonsubmission"),
    ]
