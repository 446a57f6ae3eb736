import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
        ("tasks", "0005_only_some_questions"),
    ]

    operations = [
        migrations.RemoveConstraint(model_name="task", name="a_task_has_prompts"),
        migrations.CreateModel(
            name="OwnPrompt",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("sentence", models.CharField(max_length=160, verbose_name="question")),
                ("fact", models.CharField(max_length=16)),
                ("data", models.JSONField()),
                (
                    "made_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="own_prompts",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "school",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="own_prompts",
                        to="people.school",
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(
                        fields=("school", "made_by", "fact"), name="one_own_prompt_once_a_person"
                    )
                ],
            },
        ),
    ]
