"""The cautions of a family's card: what its things call for, from the one table of number work."""

from django.utils.translation import gettext_lazy as _

from tasks.cards.wording import edited_words, own_caution
from tasks.models import Task
from tasks.numberwork.cautions import Caution, cautions_for

ALWAYS = _(
    "An adult stays close by. If your school or doctor has told you something else about "
    "safety, follow that."
)


def due(*tasks: Task) -> list[Caution]:
    """Return what the things of *tasks*, their prompts fetched, call for: the gravest first.

    What calls for it is read off their words as they are kept: to fetch, to say, and what a
    teacher wrote of what to do, and the questions she wrote herself. What a teacher's own
    cautions cover is not said again.
    """
    said = [f"{edited_words(task)} {task.fetch} {task.say}" for task in tasks]
    said += [row.sentence for task in tasks for row in task.prompts.all() if row.is_own]
    things = " ".join(said)
    return cautions_for(things, " ".join(own_caution(task) for task in tasks))
