"""What is known of a line of the list of erasures is called its details."""

from django.db import migrations


class Migration(migrations.Migration):
    dependencies = [("upkeep", "0003_gone")]

    operations = [migrations.RenameField("gone", "told", "details")]
