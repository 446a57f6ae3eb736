"""How often a piece crashed its decoder, so that it is not tried for ever."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('evidence', '0001_first_release'),
    ]

    operations = [
        migrations.AddField(
            model_name='piece',
            name='crashes',
            field=models.PositiveSmallIntegerField(default=0),
        ),
    ]
