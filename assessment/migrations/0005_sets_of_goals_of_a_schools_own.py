import django.db.models.deletion
import django.utils.timezone
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('assessment', '0004_replies_marks_and_calls'),
    ]

    operations = [
        migrations.RemoveConstraint(
            model_name='framework',
            name='one_own_framework_a_slug',
        ),
        migrations.AddField(
            model_name='framework',
            name='changed_at',
            field=models.DateTimeField(default=django.utils.timezone.now),
        ),
        migrations.AddField(
            model_name='framework',
            name='draft',
            field=models.BooleanField(default=False),
        ),
        migrations.AddField(
            model_name='framework',
            name='edition',
            field=models.CharField(blank=True, max_length=200),
        ),
        migrations.AddField(
            model_name='framework',
            name='identifier',
            field=models.CharField(blank=True, help_text="Its publisher's.", max_length=200),
        ),
        migrations.AddField(
            model_name='framework',
            name='licence',
            field=models.TextField(blank=True),
        ),
        migrations.AddField(
            model_name='framework',
            name='publisher',
            field=models.CharField(blank=True, max_length=200),
        ),
        migrations.AddField(
            model_name='framework',
            name='put_away_at',
            field=models.DateTimeField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name='framework',
            name='replaces',
            field=models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.CASCADE, related_name='drafts', to='assessment.framework'),
        ),
        migrations.AddField(
            model_name='framework',
            name='source',
            field=models.CharField(blank=True, max_length=500),
        ),
        migrations.AddField(
            model_name='goal',
            name='identifier',
            field=models.CharField(blank=True, max_length=200),
        ),
        migrations.AddField(
            model_name='goal',
            name='note',
            field=models.TextField(blank=True),
        ),
        migrations.AddField(
            model_name='goal',
            name='why',
            field=models.TextField(blank=True, help_text='Why no number work shows it.'),
        ),
        migrations.AddConstraint(
            model_name='framework',
            constraint=models.UniqueConstraint(condition=models.Q(('draft', False), ('school__isnull', False)), fields=('slug', 'school'), name='one_own_framework_a_slug'),
        ),
        migrations.AddConstraint(
            model_name='framework',
            constraint=models.CheckConstraint(condition=models.Q(('school__isnull', False), models.Q(('draft', False), ('put_away_at', None)), _connector='OR'), name='what_is_shipped_stays'),
        ),
    ]
