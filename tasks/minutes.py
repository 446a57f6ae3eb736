"""How long the tasks of a day take together."""

from collections.abc import Iterable

from tasks.models import Task
from tasks.numberwork import kind_kept, minutes
from tasks.numberwork.cautions import cautions_for


def minutes_of(tasks: Iterable[Task]) -> int:
    """Return the whole minutes that *tasks*, their prompts fetched, take one child and an adult.

    The words of a part are read once, however many parts share them; each prompt is read and done.
    """
    tasks = list(tasks)
    rows = [(row, kind_kept(task.kind)) for task in tasks for row in task.prompts.all()]
    shared = {text for task in tasks for text in (task.words, task.fetch, task.say, task.caution)}
    named = " ".join(f"{task.fetch} {task.say}" for task in tasks)
    shared |= {caution.order for caution in cautions_for(named)}
    read = [*shared, *(row.spoken for row, _kind in rows)]
    return minutes(
        sum(len(text.split()) for text in read), sum(kind.seconds for _row, kind in rows)
    )
