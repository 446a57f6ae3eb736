"""A label alone, in a plainer word: no column changes."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('tasks', '0006_questions_of_ones_own'),
    ]

    operations = [
        migrations.AlterField(
            model_name='task',
            name='depth',
            field=models.CharField(choices=[('with support', 'easier'), ('core', 'usual'), ('challenge', 'harder')], default='core', max_length=12),
        ),
    ]
