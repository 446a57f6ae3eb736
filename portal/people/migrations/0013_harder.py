"""A label alone, in a plainer word: no column changes."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('people', '0012_address_notices'),
    ]

    operations = [
        migrations.AlterField(
            model_name='group',
            name='depth',
            field=models.CharField(choices=[('with support', 'easier'), ('core', 'usual'), ('challenge', 'harder')], default='core', max_length=12),
        ),
    ]
