"""Labels alone, in plainer words: no column changes."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('people', '0009_links_of_staff_in_the_outbox'),
    ]

    operations = [
        migrations.AlterField(
            model_name='event',
            name='what',
            field=models.CharField(choices=[('signed in', 'signed in'), ('sign-in failed', 'could not sign in'), ('signed out', 'signed out'), ('devices ended', 'signed a device out'), ('second step', 'passed the sign-in code'), ('second step failed', 'did not pass the sign-in code'), ('second step set', 'set up the sign-in code'), ('second step removed', 'removed a sign-in code'), ('recovery code used', 'used a recovery code'), ('recovery codes made', 'made new recovery codes'), ('password set', 'set a password'), ('address changed', 'changed the e-mail address'), ('refused', 'was refused a page'), ('staff added', 'added a member of staff'), ('staff changed', "changed a member of staff's post"), ('staff ended', "ended a member of staff's post"), ('rule changed', "changed the school's rules"), ('invited', 'invited an adult'), ('invitation ended', 'ended an invitation'), ('came in', 'came in by invitation'), ('guardianship ended', "ended an adult's access to a child"), ('roster applied', 'ran a roster file'), ('roster undone', 'undid a roster file'), ('homes joined', 'joined two homes of a child'), ('child changed', "changed a child's place on the roster"), ('year made', 'made a school year'), ('moved up', 'moved children up'), ('media seen', 'looked at what a child sent'), ('media taken', 'downloaded what a child sent'), ('consent written', 'wrote down an answer given on paper'), ('held', "held a child's data"), ('hold ended', 'ended a hold'), ('others named', 'said who else a picture shows'), ('exported', "exported children's data"), ('deleted', "deleted children's data")], max_length=20),
        ),
        migrations.AlterField(
            model_name='group',
            name='depth',
            field=models.CharField(choices=[('with support', 'easier'), ('core', 'usual'), ('challenge', 'further')], default='core', max_length=12),
        ),
        migrations.AlterField(
            model_name='school',
            name='requires_second_factor',
            field=models.BooleanField(default=True, help_text="Staff type a sign-in code before any child's page opens."),
        ),
    ]
