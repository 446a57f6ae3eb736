"""How often a spoken reply crashed its decoder, so that it is not tried for ever."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('assessment', '0001_first_release'),
    ]

    operations = [
        migrations.AddField(
            model_name='voicereply',
            name='crashes',
            field=models.PositiveSmallIntegerField(default=0),
        ),
    ]
