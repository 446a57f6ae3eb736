"""What is to be turned is found by its own index, in its own order."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('evidence', '0002_what_crashed_its_decoder'),
    ]

    operations = [
        migrations.RemoveIndex(
            model_name='piece',
            name='piece_to_turn',
        ),
        migrations.AddIndex(
            model_name='piece',
            index=models.Index(condition=models.Q(models.Q(('turned', models.F('turn')), _negated=True), ('state', 'ready')), fields=['attempts', 'arrived_at', 'id'], name='piece_to_turn'),
        ),
    ]
