"""The list of erasures in the database too, so that every machine of a portal knows it."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ('upkeep', '0002_clock'),
    ]

    operations = [
        migrations.CreateModel(
            name='Gone',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('at', models.DateTimeField()),
                ('model', models.CharField(max_length=100)),
                ('key', models.BigIntegerField()),
                ('what', models.CharField(max_length=20)),
                ('told', models.JSONField(default=dict)),
            ],
        ),
    ]
