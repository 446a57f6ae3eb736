import django.db.models.deletion
import django.utils.timezone
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('people', '0001_initial'),
        ('tasks', '0002_who_changed_a_plan_and_when_a_task_was_drawn'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.AddField(
            model_name='task',
            name='number',
            field=models.PositiveSmallIntegerField(blank=True, help_text='The number of the day, where the teacher chose one.', null=True),
        ),
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
            },
        ),
        migrations.AddField(
            model_name='dayplan',
            name='sequence',
            field=models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='day_plans', to='tasks.sequence'),
        ),
        migrations.AddIndex(
            model_name='sequence',
            index=models.Index(fields=['school_class', 'first'], name='sequence_of_class'),
        ),
        migrations.AddConstraint(
            model_name='sequence',
            constraint=models.CheckConstraint(condition=models.Q(('last__gte', models.F('first'))), name='sequence_in_order'),
        ),
    ]
