"""Days and their tasks, and runs of days on one focus."""

import django.db.models.deletion
import django.utils.timezone
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    replaces = [
        ('tasks', '0001_initial'),
        ('tasks', '0002_who_changed_a_plan_and_when_a_task_was_drawn'),
        ('tasks', '0003_a_run_of_days_on_one_focus_and_a_chosen_number'),
    ]

    initial = True

    dependencies = [
        ('people', '0001_first_release'),
        ('people', '__first__'),
    ]

    operations = [
        migrations.CreateModel(
            name='Sequence',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('focus', models.CharField(max_length=40, verbose_name='focus')),
                ('within', models.PositiveSmallIntegerField()),
                ('first', models.DateField(verbose_name='first day')),
                ('last', models.DateField(verbose_name='last day')),
                ('seed', models.BigIntegerField()),
                ('known', models.JSONField(default=list, help_text='Kinds the class had met before.')),
                ('version', models.PositiveIntegerField(default=1)),
                ('made_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('thrown_away', models.JSONField(blank=True, help_text='The days thrown away by the last change, to put back.', null=True)),
                ('made_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('school_class', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='sequences', to='people.schoolclass')),
            ],
            options={
                'ordering': ['-first', '-pk'],
                'indexes': [models.Index(fields=['school_class', 'first'], name='sequence_of_class')],
                'constraints': [models.CheckConstraint(condition=models.Q(('last__gte', models.F('first'))), name='sequence_in_order')],
            },
        ),
        migrations.CreateModel(
            name='DayPlan',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('date', models.DateField(verbose_name='date')),
                ('focus', models.CharField(blank=True, max_length=60, verbose_name='focus')),
                ('note', models.TextField(blank=True, max_length=1000, verbose_name='a word to families')),
                ('goes_out_at', models.DateTimeField(blank=True, null=True, verbose_name='goes out at')),
                ('version', models.PositiveIntegerField(default=1)),
                ('changed_at', models.DateTimeField(blank=True, null=True)),
                ('taken_out', models.JSONField(blank=True, help_text='The part removed by the last change, to put back.', null=True)),
                ('changed_by', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('made_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('school_class', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='day_plans', to='people.schoolclass')),
                ('sequence', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='day_plans', to='tasks.sequence')),
            ],
            options={
                'ordering': ['date'],
                'constraints': [models.UniqueConstraint(fields=('school_class', 'date'), name='one_plan_a_day')],
            },
        ),
        migrations.CreateModel(
            name='Task',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('part', models.CharField(choices=[('warm_up', 'warm-up count'), ('number_of_the_day', 'number of the day'), ('quick_recall', 'quick recall'), ('main_task', 'main task'), ('try_at_home', 'try at home')], max_length=20)),
                ('kind', models.CharField(max_length=40)),
                ('within', models.PositiveSmallIntegerField()),
                ('count', models.PositiveSmallIntegerField()),
                ('seed', models.BigIntegerField()),
                ('number', models.PositiveSmallIntegerField(blank=True, help_text='The number of the day, where the teacher chose one.', null=True)),
                ('depth', models.CharField(choices=[('with support', 'with support'), ('core', 'core'), ('challenge', 'challenge')], default='core', max_length=12)),
                ('words', models.TextField(blank=True, max_length=1000, verbose_name='what to do')),
                ('fetch', models.CharField(blank=True, max_length=300, verbose_name='what to fetch')),
                ('say', models.CharField(blank=True, max_length=300, verbose_name='what to say')),
                ('caution', models.CharField(blank=True, max_length=300, verbose_name='caution')),
                ('locked', models.BooleanField(default=False)),
                ('drawn_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('day_plan', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='tasks', to='tasks.dayplan')),
                ('group', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.CASCADE, related_name='tasks', to='people.group')),
            ],
            options={
                'constraints': [models.UniqueConstraint(condition=models.Q(('group', None)), fields=('day_plan', 'part'), name='one_class_task_a_part'), models.UniqueConstraint(condition=models.Q(('group__isnull', False)), fields=('day_plan', 'part', 'group'), name='one_group_task_a_part'), models.CheckConstraint(condition=models.Q(('count__gte', 1)), name='a_task_has_prompts')],
            },
        ),
        migrations.CreateModel(
            name='TaskPrompt',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('position', models.PositiveSmallIntegerField()),
                ('sentence', models.CharField(max_length=300)),
                ('spoken', models.CharField(max_length=500)),
                ('data', models.JSONField()),
                ('task', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='prompts', to='tasks.task')),
            ],
            options={
                'ordering': ['task', 'position'],
                'constraints': [models.UniqueConstraint(fields=('task', 'position'), name='one_prompt_a_position')],
            },
        ),
    ]
