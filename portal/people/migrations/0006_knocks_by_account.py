"""More that is limited: by account as well, and the second step."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('people', '0005_powers_apart_from_claims'),
    ]

    operations = [
        migrations.AlterField(
            model_name='knock',
            name='kind',
            field=models.CharField(choices=[('code to address', 'Code To Address'), ('slip from source', 'Slip From Source'), ('wrong digits', 'Wrong Digits'), ('wrong password', 'Wrong Password'), ('network of site', 'Network Of Site'), ('site', 'Site'), ('second step', 'Second Step')], max_length=20),
        ),
    ]
