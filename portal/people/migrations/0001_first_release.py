"""The school, its people, and the homes of its children."""

import datetime
import django.db.models.deletion
import django.db.models.functions.text
import django.utils.timezone
import portal.people.school.models
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    replaces = [
        ('people', '0001_initial'),
        ('people', '0002_keeping_the_door'),
        ('people', '0004_one_class_files'),
        ('people', '0006_what_is_done_with_data'),
        ('people', '0007_first_steps'),
        ('people', '0008_mail_that_comes_back'),
    ]

    initial = True

    dependencies = []

    operations = [
        migrations.CreateModel(
            name='School',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(max_length=120)),
                ('time_zone', models.CharField(default='Europe/London', max_length=50, validators=[portal.people.school.models.is_time_zone])),
                ('summary_hour', models.TimeField(default=datetime.time(15, 30), help_text='On Friday, local time.')),
                ('requires_second_factor', models.BooleanField(default=True, help_text="Staff prove themselves by a second step before any child's page.")),
                ('safeguarding_lead_name', models.CharField(blank=True, max_length=80, verbose_name='designated safeguarding lead')),
                ('safeguarding_lead_phone', models.CharField(blank=True, max_length=40, verbose_name='telephone of the safeguarding lead')),
                ('privacy_contact', models.CharField(blank=True, max_length=200, verbose_name='whom families ask about their data')),
            ],
        ),
        migrations.CreateModel(
            name='User',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('password', models.CharField(max_length=128, verbose_name='password')),
                ('last_login', models.DateTimeField(blank=True, null=True, verbose_name='last login')),
                ('email', models.EmailField(max_length=254, unique=True, verbose_name='e-mail address')),
                ('name', models.CharField(max_length=80, verbose_name='name')),
                ('language', models.CharField(default='en-gb', max_length=10, verbose_name='language')),
                ('is_active', models.BooleanField(default=True)),
                ('email_confirmed_at', models.DateTimeField(blank=True, null=True)),
                ('created_at', models.DateTimeField(auto_now_add=True)),
                ('mail_came_back_at', models.DateTimeField(blank=True, editable=False, null=True)),
                ('first_steps_since', models.DateTimeField(default=django.utils.timezone.now, editable=False, null=True)),
            ],
            options={
                'constraints': [models.CheckConstraint(condition=models.Q(('email', django.db.models.functions.text.Lower('email'))), name='email_lower')],
            },
        ),
        migrations.CreateModel(
            name='Device',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('session_key', models.CharField(max_length=40, unique=True)),
                ('label', models.CharField(max_length=40)),
                ('began_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('seen_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('user', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='devices', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ['-seen_at'],
            },
        ),
        migrations.CreateModel(
            name='Knock',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('kind', models.CharField(choices=[('code to address', 'Code To Address'), ('code from source', 'Code From Source'), ('slip from source', 'Slip From Source'), ('second step', 'Second Step')], max_length=20)),
                ('key', models.CharField(max_length=64)),
                ('at', models.DateTimeField(default=django.utils.timezone.now)),
            ],
            options={
                'indexes': [models.Index(fields=['kind', 'key', 'at'], name='knock_of_late')],
            },
        ),
        migrations.CreateModel(
            name='RecoveryCode',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('code_hash', models.CharField(max_length=64, unique=True)),
                ('used_at', models.DateTimeField(blank=True, null=True)),
                ('user', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='recovery_codes', to=settings.AUTH_USER_MODEL)),
            ],
        ),
        migrations.CreateModel(
            name='RosterHabits',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('columns', models.JSONField(default=dict)),
                ('left_out', models.JSONField(default=list)),
                ('school', models.OneToOneField(on_delete=django.db.models.deletion.CASCADE, related_name='roster_habits', to='people.school')),
            ],
        ),
        migrations.CreateModel(
            name='Event',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('at', models.DateTimeField(default=django.utils.timezone.now)),
                ('who', models.BigIntegerField(null=True)),
                ('role', models.CharField(choices=[('lead', 'lead'), ('teacher', 'teacher'), ('assistant', 'assistant'), ('office', 'office'), ('family', 'adult at home'), ('visitor', 'visitor'), ('portal', 'the portal itself')], max_length=10)),
                ('what', models.CharField(choices=[('signed in', 'signed in'), ('sign-in failed', 'could not sign in'), ('signed out', 'signed out'), ('devices ended', 'signed a device out'), ('second step', 'took the second step'), ('second step failed', 'could not take the second step'), ('second step set', 'set the second step up'), ('second step removed', 'removed a second step'), ('recovery code used', 'used a recovery code'), ('recovery codes made', 'made new recovery codes'), ('password set', 'set a password'), ('address changed', 'changed the e-mail address'), ('refused', 'was refused a page'), ('staff added', 'added a member of staff'), ('staff changed', "changed a member of staff's post"), ('staff ended', "ended a member of staff's post"), ('rule changed', "changed the school's rules"), ('invited', 'invited an adult'), ('invitation ended', 'ended an invitation'), ('came in', 'came in by invitation'), ('guardianship ended', "ended an adult's access to a child"), ('roster applied', 'ran a roster file'), ('roster undone', 'undid a roster file'), ('homes joined', 'made two homes of a child one'), ('child changed', "changed a child's place on the roster"), ('year made', 'made a school year'), ('moved up', 'moved children up'), ('media seen', 'looked at what a child sent'), ('media taken', 'downloaded what a child sent'), ('consent written', 'wrote down an answer given on paper'), ('held', "held a child's data"), ('hold ended', 'ended a hold'), ('others named', 'said who else a picture shows'), ('exported', "exported children's data"), ('deleted', "deleted children's data")], max_length=20)),
                ('kind', models.CharField(blank=True, max_length=60)),
                ('object_id', models.BigIntegerField(null=True)),
                ('request_id', models.CharField(blank=True, max_length=32)),
                ('school', models.ForeignKey(null=True, on_delete=django.db.models.deletion.CASCADE, related_name='events', to='people.school')),
            ],
            options={
                'ordering': ['-at', '-pk'],
                'indexes': [models.Index(fields=['school', '-at'], name='event_of_school'), models.Index(fields=['kind', 'object_id', '-at'], name='event_about')],
            },
        ),
        migrations.CreateModel(
            name='Closure',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(max_length=60)),
                ('first', models.DateField()),
                ('last', models.DateField()),
                ('school', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='closures', to='people.school')),
            ],
            options={
                'constraints': [models.CheckConstraint(condition=models.Q(('last__gte', models.F('first'))), name='closure_in_order')],
            },
        ),
        migrations.CreateModel(
            name='SchoolYear',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('starts', models.DateField()),
                ('ends', models.DateField()),
                ('school', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='years', to='people.school')),
            ],
            options={
                'ordering': ['starts'],
                'constraints': [models.CheckConstraint(condition=models.Q(('ends__gt', models.F('starts'))), name='year_ends_after_it_starts'), models.UniqueConstraint(fields=('school', 'starts'), name='one_year_per_start')],
            },
        ),
        migrations.CreateModel(
            name='SchoolClass',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(max_length=40)),
                ('year', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='classes', to='people.schoolyear')),
            ],
            options={
                'ordering': ['-year__starts', 'name'],
                'constraints': [models.UniqueConstraint(fields=('year', 'name'), name='class_name_once_a_year')],
            },
        ),
        migrations.CreateModel(
            name='Child',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('first_name', models.CharField(max_length=40)),
                ('initial', models.CharField(blank=True, help_text='Of the family name.', max_length=2)),
                ('office_key', models.CharField(blank=True, max_length=64)),
                ('school', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='children', to='people.school')),
                ('school_class', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='children', to='people.schoolclass')),
            ],
            options={
                'ordering': ['first_name', 'initial', 'pk'],
                'constraints': [models.UniqueConstraint(condition=models.Q(('office_key', ''), _negated=True), fields=('school', 'office_key'), name='one_child_a_number')],
            },
        ),
        migrations.CreateModel(
            name='Home',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('address_key', models.CharField(blank=True, max_length=64)),
                ('wants_mail', models.BooleanField(default=True, help_text='The week summary by mail.')),
                ('created_at', models.DateTimeField(auto_now_add=True)),
                ('children', models.ManyToManyField(blank=True, related_name='homes', to='people.child')),
                ('school', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='homes', to='people.school')),
            ],
            options={
                'constraints': [models.UniqueConstraint(condition=models.Q(('address_key', ''), _negated=True), fields=('school', 'address_key'), name='one_home_an_address')],
            },
        ),
        migrations.CreateModel(
            name='Group',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(max_length=40)),
                ('depth', models.CharField(choices=[('with support', 'with support'), ('core', 'core'), ('challenge', 'challenge')], default='core', max_length=12)),
                ('children', models.ManyToManyField(blank=True, related_name='groups', to='people.child')),
                ('school_class', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='groups', to='people.schoolclass')),
            ],
            options={
                'ordering': ['name'],
                'constraints': [models.UniqueConstraint(fields=('school_class', 'name'), name='group_name_once_a_class')],
            },
        ),
        migrations.CreateModel(
            name='RosterRun',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('made_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('state', models.CharField(choices=[('draft', 'Draft'), ('applied', 'Applied'), ('undone', 'Undone'), ('dropped', 'Dropped')], default='draft', max_length=8)),
                ('content', models.BinaryField(null=True)),
                ('columns', models.JSONField(default=list)),
                ('one_class', models.CharField(blank=True, max_length=40)),
                ('whole_school', models.BooleanField(default=False)),
                ('left_out', models.JSONField(default=list)),
                ('answers', models.JSONField(default=dict)),
                ('figures', models.JSONField(default=dict)),
                ('changes', models.JSONField(default=list)),
                ('applied_at', models.DateTimeField(blank=True, null=True)),
                ('undone_at', models.DateTimeField(blank=True, null=True)),
                ('made_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('school', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='roster_runs', to='people.school')),
                ('year', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, to='people.schoolyear')),
            ],
            options={
                'ordering': ['-made_at'],
                'constraints': [models.CheckConstraint(condition=models.Q(('state', 'draft'), ('content', None), _connector='OR'), name='only_a_draft_holds_a_file')],
            },
        ),
        migrations.CreateModel(
            name='SignInCode',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('new_email', models.EmailField(blank=True, max_length=254)),
                ('code_hash', models.CharField(blank=True, max_length=64)),
                ('link_hash', models.CharField(blank=True, max_length=64)),
                ('browser_hash', models.CharField(max_length=64, unique=True)),
                ('tries_left', models.PositiveSmallIntegerField(default=5)),
                ('expires_at', models.DateTimeField()),
                ('user', models.ForeignKey(null=True, on_delete=django.db.models.deletion.CASCADE, related_name='sign_in_codes', to=settings.AUTH_USER_MODEL)),
            ],
        ),
        migrations.CreateModel(
            name='StaffPost',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('role', models.CharField(choices=[('teacher', 'teacher'), ('assistant', 'assistant'), ('lead', 'lead'), ('office', 'office')], max_length=10)),
                ('began_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('ended_at', models.DateTimeField(blank=True, null=True)),
                ('link_wanted_at', models.DateTimeField(blank=True, null=True)),
                ('link_claimed_at', models.DateTimeField(blank=True, null=True)),
                ('link_by_holder', models.BooleanField(default=False)),
                ('classes', models.ManyToManyField(blank=True, related_name='posts', to='people.schoolclass')),
                ('school', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='posts', to='people.school')),
                ('user', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='posts', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'constraints': [models.UniqueConstraint(condition=models.Q(('ended_at', None)), fields=('user', 'school', 'role'), name='one_post_of_a_kind')],
            },
        ),
        migrations.CreateModel(
            name='Guardianship',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('created_at', models.DateTimeField(auto_now_add=True)),
                ('ended_at', models.DateTimeField(blank=True, null=True)),
                ('adult', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='guardianships', to=settings.AUTH_USER_MODEL)),
                ('child', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='guardianships', to='people.child')),
                ('home', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='guardianships', to='people.home')),
            ],
            options={
                'constraints': [models.UniqueConstraint(condition=models.Q(('ended_at', None)), fields=('adult', 'child'), name='one_guardianship_a_pair')],
            },
        ),
        migrations.CreateModel(
            name='Consent',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('on_paper', models.BooleanField(default=False)),
                ('party', models.CharField(max_length=30)),
                ('purpose', models.CharField(choices=[('teaching', 'teaching, and the record of it'), ('display', 'shown in the classroom'), ('families', 'shared with other families'), ('outside', 'seen by staff outside the class')], max_length=10)),
                ('given', models.BooleanField()),
                ('wording', models.PositiveSmallIntegerField()),
                ('at', models.DateTimeField(default=django.utils.timezone.now)),
                ('adult', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='consents', to=settings.AUTH_USER_MODEL)),
                ('child', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='consents', to='people.child')),
                ('recorded_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('home', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='consents', to='people.home')),
            ],
            options={
                'ordering': ['-pk'],
                'indexes': [models.Index(fields=['child', 'purpose', 'party', '-id'], name='consent_of_party')],
                'constraints': [models.CheckConstraint(condition=models.Q(('purpose', 'teaching'), _negated=True), name='teaching_is_not_asked')],
            },
        ),
        migrations.CreateModel(
            name='Invitation',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('code_hash', models.CharField(max_length=64, null=True, unique=True)),
                ('email', models.EmailField(blank=True, max_length=254)),
                ('email_key', models.CharField(blank=True, max_length=64)),
                ('made_at', models.DateTimeField(default=django.utils.timezone.now)),
                ('expires_at', models.DateTimeField()),
                ('mail_claimed_at', models.DateTimeField(blank=True, null=True)),
                ('mailed_at', models.DateTimeField(blank=True, null=True)),
                ('used_at', models.DateTimeField(blank=True, null=True)),
                ('revoked_at', models.DateTimeField(blank=True, null=True)),
                ('mail_came_back_at', models.DateTimeField(blank=True, editable=False, null=True)),
                ('child', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='invitations', to='people.child')),
                ('home', models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name='invitations', to='people.home')),
                ('made_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'verbose_name': 'invitation',
                'constraints': [models.UniqueConstraint(condition=models.Q(('revoked_at', None), ('used_at', None), models.Q(('email_key', ''), _negated=True)), fields=('child', 'email_key'), name='one_standing_invitation_an_address'), models.CheckConstraint(condition=models.Q(models.Q(('email_key', ''), _negated=True), models.Q(('code_hash__isnull', False), ('email', '')), _connector='OR'), name='invitation_on_paper_or_by_mail')],
            },
        ),
    ]
