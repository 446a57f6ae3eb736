"""From what is planned to what is printed: the packs of one class, group or child."""

import datetime as dt
from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass, field

from django.conf import settings
from django.urls import reverse
from django.utils.formats import date_format

from portal.people.models import Child
from tasks.cards.card import Line as LineOfCard
from tasks.cards.card import Part as PartOfCard
from tasks.cards.languages import page_language, phrase_in, said_in
from tasks.models import DayPlan, Task, TaskPrompt
from tasks.printing.values import Day, Line, Pack, Part

WITH_ROOM = (Task.Part.MAIN_TASK, Task.Part.TRY_AT_HOME)


@dataclass(frozen=True, slots=True)
class Readers:
    """Whom to print for.

    who: the class in words. children: those who get a pack each, their groups fetched; without
    any there is one pack, as a child in *groups* (primary keys) is set it.
    """

    who: str
    children: tuple[Child, ...] = ()
    groups: frozenset[int] = frozenset()
    named: bool = False


def collect(readers: Readers, plans: Collection[DayPlan]) -> tuple[Pack, ...]:
    """Collect the packs for *readers* from *plans*, in a number of queries that does not grow."""
    shelf = Shelf(list(plans), list(tasks_of(plans)))
    if not readers.children:
        return (Pack(shelf.days(readers.groups, lambda plan: today_address()), readers.who),)
    return tuple(
        Pack(shelf.days_of(child), readers.who, child.first_name if readers.named else "")
        for child in readers.children
    )


def tasks_of(plans: Collection[DayPlan]) -> Iterable[Task]:
    """Return every task of *plans*, with its prompts."""
    tasks = Task.objects.filter(day_plan__in=plans).select_related("day_plan")
    return tasks.prefetch_related("prompts").order_by("pk")


def today_address() -> str:
    """Return the address at which every family finds today's card."""
    return f"{settings.SITE_URL}{reverse('tasks:today')}"


def send_address(child: Child, date: dt.date) -> str:
    """Return the address at which the work of *child* for *date* is sent."""
    return f"{settings.SITE_URL}{reverse('evidence:send', args=[child.pk, date])}"


@dataclass
class Shelf:
    """The plans and tasks to choose from; each task is read once, however many get it."""

    plans: list[DayPlan]
    tasks: list[Task]
    parts: dict[int, Part] = field(default_factory=dict)

    def days_of(self, child: Child) -> tuple[Day, ...]:
        """Return the days as *child*, its groups fetched, is set them."""
        groups = frozenset(group.pk for group in child.groups.all())
        return self.days(groups, lambda plan: send_address(child, plan.date))

    def days(self, groups: frozenset[int], address: Callable[[DayPlan], str]) -> tuple[Day, ...]:
        """Return the days on which a child in *groups* is set something."""
        days = (self.day(plan, groups, address(plan)) for plan in self.plans)
        return tuple(day for day in days if day.parts)

    def day(self, plan: DayPlan, groups: frozenset[int], address: str) -> Day:
        """Return one day as a child in *groups* is set it."""
        tasks = self.tasks_for(plan, groups)
        return Day(
            date=plan.date,
            title=date_format(plan.date, "l j E Y"),
            focus=phrase_in(plan.focus, page_language())[0],
            note=plan.note,
            parts=tuple(map(self.part, tasks)),
            address=address,
            number=number_of_the_day(tasks),
        )

    def tasks_for(self, plan: DayPlan, groups: frozenset[int]) -> list[Task]:
        """Choose as `Task.objects.for_child` does: a group's own task, else the class's."""
        chosen: dict[str, Task] = {}
        of_plan = [task for task in self.tasks if task.day_plan_id == plan.pk]
        for task in of_plan:
            if task.group_id in groups:
                chosen.setdefault(task.part, task)
        for task in of_plan:
            if task.group_id is None:
                chosen.setdefault(task.part, task)
        return sorted(chosen.values(), key=lambda task: task.position)

    def part(self, task: Task) -> Part:
        """Read *task* as a part to print."""
        if task.pk not in self.parts:
            self.parts[task.pk] = read_part(task)
        return self.parts[task.pk]


def read_part(task: Task) -> Part:
    """Read *task*, its prompts fetched, as a part to print: the words are those of the card.

    A family prints in its own language; what staff print for families is English, as they are.
    """
    card = PartOfCard.of(task, page_language())
    rows = zip(card.lines, task.prompts.all(), strict=True)
    return Part(
        title=card.title,
        words=card.words,
        fetch=card.fetch,
        say=card.say,
        right=card.right,
        cautions=tuple(str(sentence) for _icon, sentence in card.cautions),
        lines=tuple(read_line(row, line) for line, row in rows),
        room=task.part in WITH_ROOM,
        together=card.together,
        more=card.more,
        show=card.show.words,
    )


def read_line(row: TaskPrompt, card: LineOfCard) -> Line:
    """Read one prompt as a line to print, with the words of the card for it."""
    prompt, said = row.prompt, said_in(row.prompt, card.lang)
    boxes = said.sentence.count("□")
    numbers = len(prompt.answer) if isinstance(prompt.answer, tuple) else 1
    return Line(
        sentence=said.sentence,
        spoken=card.spoken if card.spoken_apart else "",
        answer=card.answer,
        choices=said.choices,
        boxes=numbers if boxes == 1 else 1,
        picture=prompt.picture,
    )


def number_of_the_day(tasks: Iterable[Task]) -> int | None:
    """Return the number that the day's part of that name is about."""
    for task in tasks:
        if task.part == Task.Part.NUMBER_OF_THE_DAY:
            numbers = [row.prompt.numbers[0] for row in task.prompts.all() if row.prompt.numbers]
            if numbers and len(set(numbers)) == 1 and numbers[0] <= 20:
                return numbers[0]
    return None
