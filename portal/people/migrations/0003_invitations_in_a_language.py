"""An invitation is written in a language of its own."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('people', '0002_written_once'),
    ]

    operations = [
        migrations.AddField(
            model_name='invitation',
            name='language',
            field=models.CharField(default='en-gb', max_length=10),
        ),
    ]
