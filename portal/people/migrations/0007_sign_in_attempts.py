"""Names alone: each table keeps the name it has, so that no row is touched."""

from django.db import migrations


class Migration(migrations.Migration):
    dependencies = [("people", "0006_knocks_by_account")]

    operations = [
        migrations.AlterModelTable(name="Knock", table="people_knock"),
        migrations.RenameModel(old_name="Knock", new_name="SignInAttempt"),
    ]
