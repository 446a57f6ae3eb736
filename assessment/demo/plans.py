"""What was set in the invented class: a term of weeks, each on its focus."""

import datetime as dt
from dataclasses import asdict, dataclass, field
from functools import cached_property

from assessment.demo.people import Cast
from assessment.demo.story import NEXT, OTHER_CLASS, TERM, Focus
from portal.people.models import Group, SchoolClass
from tasks.cards.wording import say_as_usual
from tasks.models import DayPlan, Sequence, Task, TaskPrompt
from tasks.numberwork import KINDS, make_prompts
from tasks.numberwork.sequences.sequence import count_of
from tasks.plans.prompt_selection import Choice
from tasks.sequences.drafting import Order, draft

# Around the focus of a day, of two choices one day and the other the next.
PARTS = (
    (Task.Part.WARM_UP, ("counting-aloud-in-ones", 20), ("counting-aloud-in-twos", 20)),
    (Task.Part.NUMBER_OF_THE_DAY, ("number-of-the-day-shown", 10)),
    (Task.Part.QUICK_RECALL, ("one-more", 20), ("adding", 10)),
)
SHAPES = ("halves-of-shapes", 10)
OUT_AT = dt.time(7, 0)
OUT_BEFORE = dt.timedelta(
    minutes=90
)  # a demo that is started before seven has its day all the same
SEQUENCED = 4  # weeks that were planned as sequences


@dataclass
class Plans:
    """Everything set, still to be stored."""

    cast: Cast
    now: dt.datetime
    days: list[DayPlan] = field(default_factory=list)
    tasks: list[Task] = field(default_factory=list)
    rows: list[TaskPrompt] = field(default_factory=list)

    @property
    def today(self) -> dt.date:
        """Return the school day that the story is told on."""
        return self.cast.today

    @cached_property
    def mondays(self) -> list[dt.date]:
        """Return the Mondays of the last weeks with school in them, this week's first."""
        year = self.cast.robins.year
        week = self.today - dt.timedelta(days=self.today.weekday())
        found: list[dt.date] = []
        while len(found) < len(TERM) and week + dt.timedelta(days=4) >= year.starts:
            if not all(self.is_closed(week + dt.timedelta(days=number)) for number in range(5)):
                found.append(week)
            week -= dt.timedelta(weeks=1)
        return found

    def weeks_back(self, day: dt.date) -> int:
        """Return how many weeks of school *day* lies before this one; 0 for this week's."""
        return self.mondays.index(day - dt.timedelta(days=day.weekday()))

    def add_week(
        self, school_class: SchoolClass, monday: dt.date, focus: Focus, sequence: Sequence | None
    ) -> None:
        """Set the school days from *monday* on; those after today stay drafts."""
        for number in range(5):
            day = monday + dt.timedelta(days=number)
            if not self.is_closed(day) and day >= school_class.year.starts:
                self.add_day(school_class, day, focus, sequence)

    def is_closed(self, day: dt.date) -> bool:
        """Whether the school is closed on *day*."""
        return any(closure.first <= day <= closure.last for closure in self.cast.closures)

    def add_day(
        self, school_class: SchoolClass, day: dt.date, focus: Focus, sequence: Sequence | None
    ) -> None:
        """Plan one day around *focus*."""
        seed = day.toordinal()
        out_at = dt.datetime.combine(day, OUT_AT, tzinfo=self.cast.school.zone)
        if day == self.today:
            out_at = min(out_at, self.now - OUT_BEFORE)
        plan = DayPlan(
            school_class=school_class,
            date=day,
            focus=KINDS[focus.kind].title,
            goes_out_at=None if day > self.today else out_at,
            sequence=sequence,
            made_by=self.cast.teacher,
        )
        self.days.append(plan)
        shaped = "halving" in focus.kind and (day == self.today or seed % 3 == 0)
        for part, *choices in PARTS:
            of_shapes = shaped and part == Task.Part.QUICK_RECALL
            choice = SHAPES if of_shapes else choices[seed % len(choices)]
            self.add_part(plan, part, Choice(*choice, count_of(part, choice[0]), "core"), seed)
        count = count_of(Task.Part.MAIN_TASK, focus.kind)
        main = Choice(focus.kind, focus.within, count, "core")
        self.add_part(plan, Task.Part.MAIN_TASK, main, seed)
        if sequence and day.weekday() >= 1:
            easier = Choice(focus.kind, 10, 4, "with support")
            self.add_part(plan, Task.Part.MAIN_TASK, easier, seed, self.cast.group)
        within = min(10, focus.within)
        self.add_part(plan, Task.Part.TRY_AT_HOME, Choice(focus.kind, within, 1, "core"), seed + 1)

    def add_part(
        self, plan: DayPlan, part: str, choice: Choice, seed: int, group: Group | None = None
    ) -> None:
        """Add one part with its prompts and the usual words."""
        task = Task(day_plan=plan, part=part, group=group, seed=seed, **asdict(choice))
        task.drawn_at = plan.goes_out_at or self.now
        say_as_usual(task)
        prompts = make_prompts(choice.kind, choice.within, choice.count, seed, depth=choice.depth)
        self.tasks.append(task)
        self.rows += [TaskPrompt.of(task, place, prompt) for place, prompt in enumerate(prompts)]

    def store(self) -> None:
        """Store all of it."""
        DayPlan.objects.bulk_create(self.days)
        Task.objects.bulk_create(self.tasks)
        TaskPrompt.objects.bulk_create(self.rows)


def make_plans(cast: Cast, now: dt.datetime) -> Plans:
    """Set the term up to today, draft the rest of this week, and the week after as a sequence."""
    plans = Plans(cast, now)
    sequences = make_sequences(cast, plans.mondays)
    for monday, focus in zip(plans.mondays, reversed(TERM), strict=False):
        plans.add_week(cast.robins, monday, focus, sequences.get(monday))
    for monday, focus in zip(plans.mondays, reversed(OTHER_CLASS), strict=False):
        plans.add_week(cast.wrens, monday, focus, None)
    plans.days.sort(key=lambda plan: plan.date)
    plans.store()
    known = tuple(dict.fromkeys(focus.kind for focus in TERM))
    next_monday = plans.mondays[0] + dt.timedelta(weeks=1)
    draft(cast.robins, Order(NEXT.kind, 5, NEXT.within, next_monday, known), cast.teacher)
    return plans


def make_sequences(cast: Cast, mondays: list[dt.date]) -> dict[dt.date, Sequence]:
    """Make the sequences of the last weeks, and give each under the Mondays that it covers."""
    found: dict[dt.date, Sequence] = {}
    before: Sequence | None = None
    recent = list(zip(mondays[:SEQUENCED], reversed(TERM), strict=False))
    for first, focus in reversed(recent):
        last = first + dt.timedelta(days=4)
        if before and before.focus == focus.kind:
            before.last, found[first] = last, before
            continue
        before = found[first] = Sequence(
            school_class=cast.robins,
            focus=focus.kind,
            within=focus.within,
            first=first,
            last=last,
            seed=first.toordinal(),
            made_by=cast.teacher,
        )
    Sequence.objects.bulk_create({id(each): each for each in found.values()}.values())
    return found
