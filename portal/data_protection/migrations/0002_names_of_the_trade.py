"""Names alone: each table keeps the name it has, so that no row is touched."""

from django.db import migrations


class Migration(migrations.Migration):
    dependencies = [("privacy", "0001_first_release")]

    operations = [
        migrations.AlterModelTable(name="Night", table="privacy_night"),
        migrations.RenameModel(old_name="Night", new_name="PurgeRun"),
        migrations.AlterModelTable(name="KeepingRule", table="privacy_keepingrule"),
        migrations.RenameModel(old_name="KeepingRule", new_name="RetentionRule"),
        migrations.AlterModelTable(name="Wish", table="privacy_wish"),
        migrations.RenameModel(old_name="Wish", new_name="DataRequest"),
        migrations.AlterModelTable(name="Hold", table="privacy_hold"),
        migrations.RenameModel(old_name="Hold", new_name="LegalHold"),
    ]
