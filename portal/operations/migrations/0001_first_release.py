"""Marks of the upkeep that has run."""

from django.db import migrations, models


class Migration(migrations.Migration):
    replaces = [
        ('upkeep', '0001_initial'),
    ]

    initial = True

    dependencies = []

    operations = [
        migrations.CreateModel(
            name='Mark',
            fields=[
                ('name', models.CharField(choices=[('tick', 'a job of the beat'), ('backup', 'backup'), ('drill', 'restore drill'), ('scrub', 'comparing of files')], max_length=20, primary_key=True, serialize=False)),
                ('at', models.DateTimeField()),
            ],
        ),
    ]
