"""What a goal asks of work stands with the goal; published sets say again what their files say."""

from django.db import migrations, models

from assessment.frameworks import all_frameworks

SAID = ("title", "notice", "stem", "judged_by", "publisher", "edition", "source", "licence")
SAID_OF_GOAL = ("strand", "text", "why", "note", "identifier")


def renew(apps, schema_editor):
    """Renew the words of each published set that is stored, and of its goals; new ones are added."""
    frameworks = apps.get_model("assessment", "Framework").objects.filter(school=None)
    goals = apps.get_model("assessment", "Goal").objects
    for given in all_frameworks():
        row = frameworks.filter(slug=given.id).first()
        if row is None:
            continue
        frameworks.filter(pk=row.pk).update(**{name: getattr(given, name) for name in SAID})
        for position, goal in enumerate(given.goals):
            said = {name: getattr(goal, name) for name in SAID_OF_GOAL}
            said |= {"kinds": list(goal.kinds), "asks": goal.asks.data(), "position": position}
            goals.update_or_create(framework=row, code=goal.code, defaults=said)


class Migration(migrations.Migration):
    dependencies = [("assessment", "0004_mistakes_of_a_school")]

    operations = [
        migrations.AddField(
            model_name="goal",
            name="asks",
            field=models.JSONField(
                default=dict, help_text="What work that is to show it has to show: see `Asked`."
            ),
        ),
        migrations.RunPython(renew, migrations.RunPython.noop, elidable=True),
    ]
