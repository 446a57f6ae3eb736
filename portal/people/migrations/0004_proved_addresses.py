"""An address is an account's own only once it is proved."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('people', '0003_invitations_in_a_language'),
    ]

    operations = [
        migrations.AddField(
            model_name='user',
            name='sessions_round',
            field=models.PositiveIntegerField(default=0, editable=False),
        ),
        migrations.AlterField(
            model_name='user',
            name='email',
            field=models.EmailField(blank=True, db_index=True, max_length=254, verbose_name='e-mail address'),
        ),
        migrations.AddConstraint(
            model_name='user',
            constraint=models.UniqueConstraint(condition=models.Q(('email_confirmed_at__isnull', False)), fields=('email',), name='one_account_a_proved_address'),
        ),
        migrations.AddConstraint(
            model_name='user',
            constraint=models.CheckConstraint(condition=models.Q(('email_confirmed_at', None), models.Q(('email', ''), _negated=True), _connector='OR'), name='no_proof_without_an_address'),
        ),
    ]
