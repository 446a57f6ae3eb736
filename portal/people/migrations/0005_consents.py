"""Keep what homes agree to, in rows that the database refuses to change."""

import django.db.models.deletion
import django.utils.timezone
from django.conf import settings
from django.db import migrations, models

COLUMNS = "party, purpose, given, wording, at, on_paper"
SQLITE = f"""
CREATE TRIGGER consent_is_never_changed BEFORE UPDATE OF {COLUMNS} ON people_consent
BEGIN SELECT RAISE(ABORT, 'a consent is never changed'); END
"""
POSTGRESQL = f"""
CREATE FUNCTION refuse_to_change_consent() RETURNS trigger LANGUAGE plpgsql AS
$$ BEGIN RAISE EXCEPTION 'a consent is never changed'; END $$;
CREATE TRIGGER consent_is_never_changed BEFORE UPDATE OF {COLUMNS} ON people_consent
FOR EACH ROW EXECUTE FUNCTION refuse_to_change_consent()
"""


def guard(apps, schema_editor):
    statement = {"sqlite": SQLITE, "postgresql": POSTGRESQL}.get(schema_editor.connection.vendor)
    if statement:
        schema_editor.execute(statement)


def unguard(apps, schema_editor):
    if schema_editor.connection.vendor == "postgresql":
        schema_editor.execute("DROP FUNCTION refuse_to_change_consent() CASCADE")
    else:
        schema_editor.execute("DROP TRIGGER consent_is_never_changed")


class Migration(migrations.Migration):

    dependencies = [
        ('people', '0004_one_class_files'),
    ]

    operations = [
        migrations.AddField(
            model_name='school',
            name='privacy_contact',
            field=models.CharField(blank=True, max_length=200, verbose_name='whom families ask about their data'),
        ),
        migrations.AddField(
            model_name='school',
            name='safeguarding_lead_name',
            field=models.CharField(blank=True, max_length=80, verbose_name='designated safeguarding lead'),
        ),
        migrations.AddField(
            model_name='school',
            name='safeguarding_lead_phone',
            field=models.CharField(blank=True, max_length=40, verbose_name='telephone of the safeguarding lead'),
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
                ('home', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='consents', to='people.home')),
                ('recorded_by', models.ForeignKey(null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ['-pk'],
                'indexes': [models.Index(fields=['child', 'purpose', 'party', '-id'], name='consent_of_party')],
                'constraints': [models.CheckConstraint(condition=models.Q(('purpose', 'teaching'), _negated=True), name='teaching_is_not_asked')],
            },
        ),
        migrations.RunPython(guard, unguard),
    ]
