"""What families send, how it arrives, and what they chose to be told."""

import django.db.models.deletion
import django.utils.timezone
import evidence.submissions.models
import evidence.uploads.tus.upload
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    replaces = [
        ('evidence', '0001_initial'),
        ('evidence', '0002_form_key'),
        ('evidence', '0003_waiting_by_child'),
        ('evidence', '0004_resumable_uploads'),
        ('evidence', '0005_turning_and_checking'),
        ('evidence', '0006_shown_children'),
        ('evidence', '0007_could_not'),
        ('evidence', '0008_reminders'),
    ]

    initial = True

    dependencies = [
        ('people', '0001_first_release'),
        ('people', '__first__'),
        ('tasks', '0001_first_release'),
    ]

    operations = [
        migrations.CreateModel(
            name='PushPlace',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('endpoint', models.TextField(max_length=600)),
                ('endpoint_hash', models.CharField(editable=False, max_length=64, unique=True)),
                ('made_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('adult', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='push_places', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ['-made_at', '-pk'],
            },
        ),
        migrations.CreateModel(
            name='Reminder',
            fields=[
                ('adult', models.OneToOneField(on_delete=django.db.models.deletion.CASCADE, primary_key=True, related_name='reminder', serialize=False, to=settings.AUTH_USER_MODEL)),
                ('hour', models.PositiveSmallIntegerField(default=16)),
                ('by_mail', models.BooleanField(default=False)),
                ('last_day', models.DateField(blank=True, editable=False, null=True)),
            ],
            options={
                'constraints': [models.CheckConstraint(condition=models.Q(('hour__gte', 7), ('hour__lte', 20)), name='reminder_by_day')],
            },
        ),
        migrations.CreateModel(
            name='Submission',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('token', models.CharField(default=evidence.submissions.models.new_token, editable=False, max_length=40, unique=True)),
                ('sent_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('note', models.TextField(blank=True, max_length=1000, verbose_name='a word to the teacher')),
                ('help', models.CharField(blank=True, choices=[('alone', 'all alone'), ('a little', 'with a little help'), ('together', 'we did it together')], max_length=10, verbose_name='help given')),
                ('looked_at', models.DateTimeField(blank=True, editable=False, null=True)),
                ('withdrawn_at', models.DateTimeField(blank=True, editable=False, null=True)),
                ('form_key', models.CharField(blank=True, editable=False, max_length=40)),
                ('by_staff', models.BooleanField(default=False, editable=False)),
                ('child', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='submissions', to='people.child')),
                ('day_plan', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='submissions', to='tasks.dayplan')),
                ('home', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='submissions', to='people.home')),
                ('sent_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ['-sent_at', '-pk'],
                'indexes': [models.Index(fields=['child', '-sent_at'], name='submission_of_child'), models.Index(fields=['child', 'withdrawn_at', 'looked_at', 'sent_at'], name='submission_waiting_of_child')],
                'constraints': [models.UniqueConstraint(condition=models.Q(('form_key', ''), _negated=True), fields=('home', 'form_key'), name='one_submission_a_form'), models.UniqueConstraint(condition=models.Q(('home', None), models.Q(('form_key', ''), _negated=True)), fields=('form_key',), name='one_submission_a_form_of_no_home')],
            },
        ),
        migrations.CreateModel(
            name='Piece',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('token', models.CharField(default=evidence.submissions.models.new_token, editable=False, max_length=40, unique=True)),
                ('position', models.PositiveSmallIntegerField(default=0)),
                ('kind', models.CharField(choices=[('photo', 'photo'), ('clip', 'clip'), ('voice', 'voice note'), ('page', 'page')], max_length=10)),
                ('turn', models.PositiveSmallIntegerField(default=0, help_text='Degrees, clockwise.')),
                ('turned', models.PositiveSmallIntegerField(default=0, editable=False, help_text='The turn that the clean copies have.')),
                ('state', models.CharField(choices=[('arrived', 'being made ready'), ('ready', 'ready'), ('refused', 'could not be read')], default='arrived', max_length=10)),
                ('refusal', models.CharField(blank=True, max_length=40)),
                ('original', models.CharField(blank=True, help_text='Name in the store.', max_length=80)),
                ('sha256', models.CharField(max_length=64)),
                ('size', models.PositiveBigIntegerField()),
                ('arrived_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('leased_until', models.DateTimeField(blank=True, null=True)),
                ('attempts', models.PositiveSmallIntegerField(default=0)),
                ('withdrawn_at', models.DateTimeField(blank=True, null=True)),
                ('submission', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='pieces', to='evidence.submission')),
            ],
            options={
                'ordering': ['submission', 'position', 'pk'],
                'indexes': [models.Index(condition=models.Q(('state', 'arrived')), fields=['leased_until'], name='piece_to_do'), models.Index(condition=models.Q(models.Q(('turned', models.F('turn')), _negated=True), ('state', 'ready')), fields=['leased_until'], name='piece_to_turn')],
                'constraints': [models.CheckConstraint(condition=models.Q(('turn__in', [0, 90, 180, 270])), name='turn_is_a_quarter'), models.CheckConstraint(condition=models.Q(('turned__in', [0, 90, 180, 270])), name='turned_is_a_quarter'), models.CheckConstraint(condition=models.Q(('state', 'refused'), ('refusal', ''), _connector='OR'), name='refusal_has_a_reason')],
            },
        ),
        migrations.CreateModel(
            name='OthersShown',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('marked_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('marked_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('piece', models.OneToOneField(on_delete=django.db.models.deletion.CASCADE, related_name='others_shown', to='evidence.piece')),
            ],
        ),
        migrations.CreateModel(
            name='Answer',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('text', models.CharField(max_length=40)),
                ('prompt', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='answers', to='tasks.taskprompt')),
                ('submission', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='answers', to='evidence.submission')),
            ],
            options={
                'ordering': ['prompt__task', 'prompt__position'],
                'constraints': [models.UniqueConstraint(fields=('submission', 'prompt'), name='one_answer_a_prompt')],
            },
        ),
        migrations.CreateModel(
            name='Upload',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('token', models.CharField(default=evidence.uploads.tus.upload.new_token, editable=False, max_length=40, unique=True)),
                ('file', models.CharField(blank=True, help_text='Name of the growing file.', max_length=40)),
                ('form_key', models.CharField(max_length=40)),
                ('by_staff', models.BooleanField(default=False)),
                ('turn', models.PositiveSmallIntegerField(default=0, help_text='Degrees, clockwise.')),
                ('metadata', models.CharField(blank=True, max_length=600)),
                ('length', models.PositiveBigIntegerField()),
                ('offset', models.PositiveBigIntegerField(default=0)),
                ('state', models.CharField(choices=[('open', 'on its way'), ('done', 'saved'), ('refused', 'refused'), ('ended', 'ended')], default='open', max_length=10)),
                ('refusal', models.CharField(blank=True, help_text='In words.', max_length=200)),
                ('made_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('expires_at', models.DateTimeField(default=evidence.uploads.tus.upload.in_a_while)),
                ('adds_to', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to='evidence.submission')),
                ('also', models.ManyToManyField(blank=True, related_name='+', to='people.child')),
                ('child', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='uploads', to='people.child')),
                ('day_plan', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='uploads', to='tasks.dayplan')),
                ('home', models.ForeignKey(null=True, on_delete=django.db.models.deletion.CASCADE, related_name='uploads', to='people.home')),
                ('pieces', models.ManyToManyField(blank=True, related_name='uploads', to='evidence.piece')),
                ('sender', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='uploads', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'indexes': [models.Index(fields=['home', 'made_at'], name='upload_of_home'), models.Index(fields=['expires_at'], name='upload_by_end')],
                'constraints': [models.CheckConstraint(condition=models.Q(('offset__lte', models.F('length'))), name='no_byte_too_many'), models.CheckConstraint(condition=models.Q(('turn__in', [0, 90, 180, 270])), name='upload_turn_is_a_quarter'), models.CheckConstraint(condition=models.Q(('state', 'open'), ('file', ''), _connector='OR'), name='only_an_open_upload_has_a_file')],
            },
        ),
        migrations.CreateModel(
            name='CouldNot',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('said_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('reason', models.CharField(blank=True, max_length=200, verbose_name='a few words, if you like')),
                ('child', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='could_nots', to='people.child')),
                ('day_plan', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='could_nots', to='tasks.dayplan')),
                ('home', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='could_nots', to='people.home')),
                ('said_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ['-said_at', '-pk'],
                'indexes': [models.Index(fields=['child', '-said_at'], name='could_not_of_child')],
                'constraints': [models.UniqueConstraint(fields=('child', 'home', 'day_plan'), name='could_not_once_a_home_and_day')],
            },
        ),
        migrations.CreateModel(
            name='Rendition',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('role', models.CharField(choices=[('display', 'display copy'), ('thumb', 'thumbnail'), ('clip', 'clip'), ('poster', 'poster'), ('sound', 'sound')], max_length=10)),
                ('page', models.PositiveSmallIntegerField(default=1)),
                ('name', models.CharField(help_text='Name in the store.', max_length=80, unique=True)),
                ('media_type', models.CharField(max_length=40)),
                ('size', models.PositiveBigIntegerField()),
                ('sha256', models.CharField(max_length=64)),
                ('width', models.PositiveIntegerField(null=True)),
                ('height', models.PositiveIntegerField(null=True)),
                ('seconds', models.FloatField(null=True)),
                ('checked_at', models.DateTimeField(default=django.utils.timezone.now, editable=False)),
                ('damaged_at', models.DateTimeField(editable=False, null=True)),
                ('piece', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='renditions', to='evidence.piece')),
            ],
            options={
                'ordering': ['piece', 'page'],
                'indexes': [models.Index(fields=['checked_at'], name='rendition_checked'), models.Index(condition=models.Q(('damaged_at__isnull', False)), fields=['checked_at'], name='rendition_damaged')],
                'constraints': [models.UniqueConstraint(fields=('piece', 'role', 'page'), name='one_rendition_a_role')],
            },
        ),
        migrations.CreateModel(
            name='ShownChild',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('child', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='shown_in', to='people.child')),
                ('mark', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='children', to='evidence.othersshown')),
            ],
            options={
                'constraints': [models.UniqueConstraint(fields=('mark', 'child'), name='a_child_is_shown_once')],
            },
        ),
    ]
