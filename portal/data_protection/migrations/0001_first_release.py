"""Copies of a child's data that were asked for, and what was erased."""

import django.db.models.deletion
import django.utils.timezone
import portal.data_protection.data_export.models
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    replaces = [
        ('privacy', '0001_the_beginning'),
    ]

    initial = True

    dependencies = [
        ('people', '0001_first_release'),
        ('people', '__first__'),
    ]

    operations = [
        migrations.CreateModel(
            name='Copy',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('token', models.CharField(default=portal.data_protection.data_export.models.new_token, editable=False, max_length=40, unique=True)),
                ('asked_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('claimed_at', models.DateTimeField(blank=True, null=True)),
                ('attempts', models.PositiveSmallIntegerField(default=0)),
                ('done', models.PositiveIntegerField(default=0)),
                ('most', models.PositiveIntegerField(default=0)),
                ('file', models.CharField(blank=True, max_length=60)),
                ('size', models.PositiveBigIntegerField(default=0)),
                ('ready_at', models.DateTimeField(blank=True, null=True)),
                ('asked_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.CASCADE, related_name='copies', to=settings.AUTH_USER_MODEL)),
                ('child', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='copies', to='people.child')),
                ('home', models.ForeignKey(null=True, on_delete=django.db.models.deletion.CASCADE, related_name='copies', to='people.home')),
            ],
            options={
                'verbose_name_plural': 'copies',
                'ordering': ['-asked_at', '-pk'],
            },
        ),
        migrations.CreateModel(
            name='Leaver',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('since', models.DateField()),
                ('child', models.OneToOneField(on_delete=django.db.models.deletion.CASCADE, related_name='left', to='people.child')),
            ],
        ),
        migrations.CreateModel(
            name='Hold',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('work', models.BigIntegerField(blank=True, null=True)),
                ('placed_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('ended_at', models.DateTimeField(blank=True, null=True)),
                ('child', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='holds', to='people.child')),
                ('ended_by', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('placed_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ['-placed_at', '-pk'],
                'constraints': [models.UniqueConstraint(condition=models.Q(('ended_at', None), ('work', None)), fields=('child',), name='one_standing_hold_a_child'), models.UniqueConstraint(condition=models.Q(('ended_at', None), ('work__isnull', False)), fields=('work',), name='one_standing_hold_a_work')],
            },
        ),
        migrations.CreateModel(
            name='KeepingRule',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('kind', models.CharField(max_length=30)),
                ('days', models.PositiveSmallIntegerField()),
                ('school', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='keeping_rules', to='people.school')),
            ],
            options={
                'constraints': [models.UniqueConstraint(fields=('school', 'kind'), name='one_rule_a_kind'), models.CheckConstraint(condition=models.Q(('days__gte', 1)), name='a_rule_keeps_for_a_day')],
            },
        ),
        migrations.CreateModel(
            name='Night',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('date', models.DateField()),
                ('claimed_at', models.DateTimeField(blank=True, null=True)),
                ('done_at', models.DateTimeField(blank=True, null=True)),
                ('deleted', models.JSONField(default=dict)),
                ('school', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='nights', to='people.school')),
            ],
            options={
                'ordering': ['-date'],
                'constraints': [models.UniqueConstraint(fields=('school', 'date'), name='one_night_a_date')],
            },
        ),
        migrations.CreateModel(
            name='Wish',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('what', models.CharField(choices=[('delete work', 'delete a piece of work'), ('delete all', 'delete all that is kept of a child'), ('ask', "talk about a child's data")], max_length=12)),
                ('work', models.BigIntegerField(blank=True, null=True)),
                ('asked_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('settled_at', models.DateTimeField(blank=True, null=True)),
                ('asked_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('child', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='wishes', to='people.child')),
                ('settled_by', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ['asked_at', 'pk'],
                'constraints': [models.UniqueConstraint(condition=models.Q(('settled_at', None), ('work', None)), fields=('child', 'asked_by', 'what'), name='one_open_wish_of_a_kind'), models.UniqueConstraint(condition=models.Q(('settled_at', None), ('work__isnull', False)), fields=('asked_by', 'work'), name='one_open_wish_a_work')],
            },
        ),
    ]
