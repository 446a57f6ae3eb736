"""Mail that comes back, links that staff ask for themselves, and homes that were one."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('people', '0007_first_steps'),
    ]

    operations = [
        migrations.AddField(
            model_name='invitation',
            name='mail_came_back_at',
            field=models.DateTimeField(blank=True, editable=False, null=True),
        ),
        migrations.AddField(
            model_name='staffpost',
            name='link_by_holder',
            field=models.BooleanField(default=False),
        ),
        migrations.AddField(
            model_name='user',
            name='mail_came_back_at',
            field=models.DateTimeField(blank=True, editable=False, null=True),
        ),
        migrations.AlterField(
            model_name='event',
            name='what',
            field=models.CharField(choices=[('signed in', 'signed in'), ('sign-in failed', 'could not sign in'), ('signed out', 'signed out'), ('devices ended', 'signed a device out'), ('second step', 'took the second step'), ('second step failed', 'could not take the second step'), ('second step set', 'set the second step up'), ('second step removed', 'removed a second step'), ('recovery code used', 'used a recovery code'), ('recovery codes made', 'made new recovery codes'), ('password set', 'set a password'), ('address changed', 'changed the e-mail address'), ('refused', 'was refused a page'), ('staff added', 'added a member of staff'), ('staff changed', "changed a member of staff's post"), ('staff ended', "ended a member of staff's post"), ('rule changed', "changed the school's rules"), ('invited', 'invited an adult'), ('invitation ended', 'ended an invitation'), ('came in', 'came in by invitation'), ('guardianship ended', "ended an adult's access to a child"), ('roster applied', 'ran a roster file'), ('roster undone', 'undid a roster file'), ('homes joined', 'made two homes of a child one'), ('child changed', "changed a child's place on the roster"), ('year made', 'made a school year'), ('moved up', 'moved children up'), ('media seen', 'looked at what a child sent'), ('media taken', 'downloaded what a child sent'), ('consent written', 'wrote down an answer given on paper'), ('held', "held a child's data"), ('hold ended', 'ended a hold'), ('others named', 'said who else a picture shows'), ('exported', "exported children's data"), ('deleted', "deleted children's data")], max_length=20),
        ),
    ]
