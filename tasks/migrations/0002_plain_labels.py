"""Labels alone, in plainer words: no column changes."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('tasks', '0001_first_release'),
    ]

    operations = [
        migrations.AlterField(
            model_name='task',
            name='depth',
            field=models.CharField(choices=[('with support', 'easier'), ('core', 'usual'), ('challenge', 'further')], default='core', max_length=12),
        ),
    ]
