"""Goals, tags, replies, what is seen and judged, and the rolled-up week."""

import django.db.models.deletion
import django.utils.timezone
import evidence.submissions.models
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    replaces = [
        ('assessment', '0001_initial'),
        ('assessment', '0002_tags_by_child'),
        ('assessment', '0003_every_tag_has_its_child'),
        ('assessment', '0004_replies_marks_and_calls'),
        ('assessment', '0005_sets_of_goals_of_a_schools_own'),
        ('assessment', '0006_what_is_seen_and_judged'),
    ]

    initial = True

    dependencies = [
        ('evidence', '0001_first_release'),
        ('people', '0001_first_release'),
        ('people', '__first__'),
    ]

    operations = [
        migrations.CreateModel(
            name='EvidenceWeighed',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('tags', models.PositiveIntegerField()),
                ('newest', models.BigIntegerField()),
                ('on', models.DateField(help_text='The day on which it was weighed.')),
                ('goals', models.JSONField(default=dict)),
                ('child', models.OneToOneField(on_delete=django.db.models.deletion.CASCADE, related_name='+', to='people.child')),
            ],
        ),
        migrations.CreateModel(
            name='Framework',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('slug', models.SlugField(max_length=60)),
                ('identifier', models.CharField(blank=True, help_text="Its publisher's.", max_length=200)),
                ('title', models.CharField(max_length=200)),
                ('notice', models.TextField(blank=True)),
                ('stem', models.CharField(blank=True, max_length=300)),
                ('levels', models.JSONField(default=list)),
                ('judged_by', models.CharField(default='goal', help_text='strand or goal', max_length=10)),
                ('publisher', models.CharField(blank=True, max_length=200)),
                ('edition', models.CharField(blank=True, max_length=200)),
                ('source', models.CharField(blank=True, max_length=500)),
                ('licence', models.TextField(blank=True)),
                ('draft', models.BooleanField(default=False)),
                ('changed_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('put_away_at', models.DateTimeField(blank=True, null=True)),
                ('replaces', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.CASCADE, related_name='drafts', to='assessment.framework')),
                ('school', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.CASCADE, related_name='frameworks', to='people.school')),
            ],
            options={
                'ordering': ['title'],
                'constraints': [models.UniqueConstraint(condition=models.Q(('school', None)), fields=('slug',), name='one_shipped_framework_a_slug'), models.UniqueConstraint(condition=models.Q(('draft', False), ('school__isnull', False)), fields=('slug', 'school'), name='one_own_framework_a_slug'), models.CheckConstraint(condition=models.Q(('school__isnull', False), models.Q(('draft', False), ('put_away_at', None)), _connector='OR'), name='what_is_shipped_stays')],
            },
        ),
        migrations.CreateModel(
            name='ClassFramework',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('school_class', models.OneToOneField(on_delete=django.db.models.deletion.CASCADE, related_name='class_framework', to='people.schoolclass')),
                ('framework', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='classes', to='assessment.framework')),
            ],
        ),
        migrations.CreateModel(
            name='Goal',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('code', models.CharField(max_length=60)),
                ('strand', models.CharField(max_length=200)),
                ('text', models.TextField()),
                ('kinds', models.JSONField(default=list)),
                ('why', models.TextField(blank=True, help_text='Why no number work shows it.')),
                ('note', models.TextField(blank=True)),
                ('identifier', models.CharField(blank=True, max_length=200)),
                ('position', models.PositiveSmallIntegerField()),
                ('retired_at', models.DateTimeField(blank=True, null=True)),
                ('framework', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='goals', to='assessment.framework')),
            ],
            options={
                'ordering': ['framework', 'position'],
                'constraints': [models.UniqueConstraint(fields=('framework', 'code'), name='one_goal_a_code')],
            },
        ),
        migrations.CreateModel(
            name='GroupsUsed',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('at', models.DateTimeField(default=django.utils.timezone.now)),
                ('before', models.JSONField(help_text='The keys of the children of each group that changed.')),
                ('made', models.JSONField(help_text='The keys of the groups that were made.')),
                ('undone_at', models.DateTimeField(blank=True, null=True)),
                ('by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('school_class', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='groups_used', to='people.schoolclass')),
            ],
            options={
                'ordering': ['-at', '-pk'],
            },
        ),
        migrations.CreateModel(
            name='LeadMark',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('words', models.CharField(blank=True, max_length=200, verbose_name='why')),
                ('marked_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('settled_at', models.DateTimeField(blank=True, null=True)),
                ('marked_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('settled_by', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('submission', models.OneToOneField(on_delete=django.db.models.deletion.CASCADE, related_name='lead_mark', to='evidence.submission')),
            ],
            options={
                'ordering': ['-marked_at', '-pk'],
                'indexes': [models.Index(condition=models.Q(('settled_at', None)), fields=['submission'], name='open_mark')],
            },
        ),
        migrations.CreateModel(
            name='Look',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('looked_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('reply', models.TextField(blank=True, max_length=1000, verbose_name='reply to the child')),
                ('next_step', models.CharField(blank=True, max_length=300, verbose_name='next step')),
                ('asked_more_at', models.DateTimeField(blank=True, null=True)),
                ('version', models.PositiveIntegerField(default=1)),
                ('looked_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('submission', models.OneToOneField(on_delete=django.db.models.deletion.CASCADE, related_name='look', to='evidence.submission')),
            ],
        ),
        migrations.CreateModel(
            name='MistakesFound',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('looked_at', models.DateTimeField()),
                ('tasks', models.JSONField(help_text='For each task: kind, could show, found.')),
                ('submission', models.OneToOneField(on_delete=django.db.models.deletion.CASCADE, related_name='+', to='evidence.submission')),
            ],
        ),
        migrations.CreateModel(
            name='PastLook',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('version', models.PositiveIntegerField()),
                ('looked_at', models.DateTimeField()),
                ('stood', models.BooleanField()),
                ('reply', models.TextField(blank=True)),
                ('next_step', models.CharField(blank=True, max_length=300)),
                ('asked_more_at', models.DateTimeField(blank=True, null=True)),
                ('tags', models.JSONField(default=list)),
                ('look', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='past', to='assessment.look')),
                ('looked_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ['look', 'version'],
                'constraints': [models.UniqueConstraint(fields=('look', 'version'), name='one_past_look_a_version')],
            },
        ),
        migrations.CreateModel(
            name='Period',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(blank=True, max_length=60, verbose_name='name')),
                ('ends', models.DateField(verbose_name='last day')),
                ('year', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='periods', to='people.schoolyear')),
            ],
            options={
                'ordering': ['-ends', 'pk'],
                'constraints': [models.UniqueConstraint(fields=('year', 'name'), name='period_name_once_a_year')],
            },
        ),
        migrations.CreateModel(
            name='Judgement',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('unit', models.CharField(max_length=200)),
                ('version', models.PositiveIntegerField()),
                ('level', models.CharField(blank=True, max_length=60, verbose_name='decision')),
                ('note', models.TextField(blank=True, max_length=1000, verbose_name='note')),
                ('locked', models.BooleanField(default=False)),
                ('at', models.DateTimeField(default=django.utils.timezone.now)),
                ('by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('child', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='judgements', to='people.child')),
                ('framework', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='judgements', to='assessment.framework')),
                ('period', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='judgements', to='assessment.period')),
            ],
            options={
                'ordering': ['child', 'unit', 'version'],
                'constraints': [models.UniqueConstraint(fields=('child', 'period', 'framework', 'unit', 'version'), name='one_judgement_a_version'), models.CheckConstraint(condition=models.Q(('version__gte', 1)), name='judgement_versions_from_1'), models.CheckConstraint(condition=models.Q(('locked', False), models.Q(('level', ''), _negated=True), _connector='OR'), name='locked_judgement_has_a_level')],
            },
        ),
        migrations.CreateModel(
            name='Sample',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('made_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('framework', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='samples', to='assessment.framework')),
                ('made_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('school_class', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='samples', to='people.schoolclass')),
                ('second', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='samples', to=settings.AUTH_USER_MODEL, verbose_name='who looks')),
            ],
            options={
                'ordering': ['-made_at', '-pk'],
            },
        ),
        migrations.CreateModel(
            name='SampledPiece',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('position', models.PositiveSmallIntegerField()),
                ('first', models.JSONField(help_text="How each goal was shown, by the goal's key.")),
                ('looked_at', models.DateTimeField(blank=True, null=True)),
                ('sample', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='pieces', to='assessment.sample')),
                ('submission', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='+', to='evidence.submission')),
            ],
            options={
                'ordering': ['sample', 'position'],
                'constraints': [models.UniqueConstraint(fields=('sample', 'submission'), name='sampled_once'), models.UniqueConstraint(fields=('sample', 'position'), name='one_piece_a_position')],
            },
        ),
        migrations.CreateModel(
            name='SavedPhrase',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('position', models.PositiveSmallIntegerField(default=0)),
                ('text', models.CharField(max_length=300, verbose_name='phrase')),
                ('user', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='saved_phrases', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ['position', 'pk'],
                'constraints': [models.UniqueConstraint(fields=('user', 'text'), name='one_phrase_once_a_person'), models.CheckConstraint(condition=models.Q(('text', ''), _negated=True), name='a_phrase_says_something')],
            },
        ),
        migrations.CreateModel(
            name='SecondTag',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('how', models.CharField(choices=[('not yet', 'not yet'), ('with support', 'with support'), ('independently', 'independently'), ('in a new situation', 'in a new situation')], max_length=20, verbose_name='how shown')),
                ('goal', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to='assessment.goal')),
                ('piece', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='tags', to='assessment.sampledpiece')),
            ],
            options={
                'constraints': [models.UniqueConstraint(fields=('piece', 'goal'), name='one_second_tag_a_goal')],
            },
        ),
        migrations.CreateModel(
            name='Tag',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('shown_at', models.DateTimeField(help_text='When the work was sent.')),
                ('how', models.CharField(choices=[('not yet', 'not yet'), ('with support', 'with support'), ('independently', 'independently'), ('in a new situation', 'in a new situation')], max_length=20, verbose_name='how shown')),
                ('by_assistant', models.BooleanField(default=False)),
                ('tagged_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('child', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='tags', to='people.child')),
                ('goal', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='tags', to='assessment.goal')),
                ('submission', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='tags', to='evidence.submission')),
                ('tagged_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'indexes': [models.Index(fields=['child', 'goal', '-shown_at', '-id', 'how'], name='tag_shown')],
                'constraints': [models.UniqueConstraint(fields=('submission', 'goal'), name='one_tag_a_goal')],
            },
        ),
        migrations.CreateModel(
            name='VoiceReply',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('token', models.CharField(default=evidence.submissions.models.new_token, editable=False, max_length=40, unique=True)),
                ('spoken_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('state', models.CharField(choices=[('arrived', 'being made ready'), ('ready', 'ready'), ('refused', 'could not be read')], default='arrived', max_length=10)),
                ('refusal', models.CharField(blank=True, max_length=40)),
                ('name', models.CharField(help_text='Name in the store.', max_length=80, unique=True)),
                ('media_type', models.CharField(blank=True, max_length=40)),
                ('sha256', models.CharField(max_length=64)),
                ('size', models.PositiveBigIntegerField()),
                ('seconds', models.FloatField(null=True)),
                ('leased_until', models.DateTimeField(blank=True, null=True)),
                ('attempts', models.PositiveSmallIntegerField(default=0)),
                ('taken_back_at', models.DateTimeField(blank=True, null=True)),
                ('spoken_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('submission', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='voice_replies', to='evidence.submission')),
            ],
            options={
                'ordering': ['submission', 'spoken_at', 'pk'],
                'indexes': [models.Index(condition=models.Q(('state', 'arrived')), fields=['leased_until'], name='voice_to_do')],
                'constraints': [models.UniqueConstraint(condition=models.Q(('taken_back_at', None)), fields=('submission',), name='one_voice_reply_a_submission'), models.CheckConstraint(condition=models.Q(models.Q(('state', 'ready'), _negated=True), models.Q(('media_type', ''), _negated=True), _connector='OR'), name='a_ready_voice_has_its_type'), models.CheckConstraint(condition=models.Q(('state', 'refused'), ('refusal', ''), _connector='OR'), name='voice_refusal_has_a_reason')],
            },
        ),
        migrations.CreateModel(
            name='WeekSummary',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('audience', models.CharField(choices=[('staff', 'staff'), ('family', 'family')], max_length=10)),
                ('week', models.DateField(help_text='The Monday it starts on.')),
                ('figures', models.JSONField()),
                ('made_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('child', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.CASCADE, related_name='week_summaries', to='people.child')),
                ('home', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.CASCADE, related_name='week_summaries', to='people.home')),
                ('school_class', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='week_summaries', to='people.schoolclass')),
            ],
            options={
                'ordering': ['-week'],
                'constraints': [models.UniqueConstraint(condition=models.Q(('audience', 'staff')), fields=('school_class', 'week'), name='one_class_summary_a_week'), models.UniqueConstraint(condition=models.Q(('audience', 'family')), fields=('child', 'home', 'week'), name='one_family_summary_a_week'), models.CheckConstraint(condition=models.Q(models.Q(('audience', 'staff'), ('child', None), ('home', None)), models.Q(('audience', 'family'), ('child__isnull', False), ('home__isnull', False)), _connector='OR'), name='family_summary_has_a_home'), models.CheckConstraint(condition=models.Q(('week__iso_week_day', 1)), name='week_starts_on_monday')],
            },
        ),
        migrations.CreateModel(
            name='SummaryMail',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('week', models.DateField()),
                ('claimed_at', models.DateTimeField(blank=True, null=True)),
                ('sent_at', models.DateTimeField(blank=True, null=True)),
                ('attempts', models.PositiveSmallIntegerField(default=0)),
                ('home', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.CASCADE, related_name='summary_mails', to='people.home')),
                ('recipient', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('summary', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='mails', to='assessment.weeksummary')),
            ],
            options={
                'indexes': [models.Index(condition=models.Q(('sent_at', None)), fields=['claimed_at'], name='mail_to_send')],
                'constraints': [models.UniqueConstraint(fields=('summary', 'recipient'), name='one_mail_a_reader'), models.UniqueConstraint(condition=models.Q(('home__isnull', False)), fields=('recipient', 'home', 'week'), name='one_mail_a_home_and_week')],
            },
        ),
        migrations.CreateModel(
            name='ContactNote',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('called_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('words', models.CharField(max_length=200, verbose_name='what came of it')),
                ('called_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('child', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='contact_notes', to='people.child')),
            ],
            options={
                'ordering': ['-called_at', '-pk'],
                'indexes': [models.Index(fields=['child', '-called_at'], name='note_of_child')],
                'constraints': [models.CheckConstraint(condition=models.Q(('words', ''), _negated=True), name='a_note_says_something')],
            },
        ),
        migrations.CreateModel(
            name='FamilyWord',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('week', models.DateField(help_text='The Monday it starts on.')),
                ('text', models.TextField(blank=True, max_length=1000)),
                ('version', models.PositiveIntegerField(default=1)),
                ('at', models.DateTimeField(default=django.utils.timezone.now)),
                ('by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('child', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.CASCADE, related_name='family_words', to='people.child')),
                ('school_class', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='family_words', to='people.schoolclass')),
            ],
            options={
                'constraints': [models.UniqueConstraint(condition=models.Q(('child', None)), fields=('school_class', 'week'), name='one_word_a_class_and_week'), models.UniqueConstraint(condition=models.Q(('child__isnull', False)), fields=('child', 'week'), name='one_word_a_child_and_week'), models.CheckConstraint(condition=models.Q(('week__iso_week_day', 1)), name='word_week_starts_on_monday')],
            },
        ),
    ]
