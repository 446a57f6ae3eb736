"""What families of the invented class sent over the term, and what the staff made of it."""

import datetime as dt
import random
from dataclasses import dataclass, field

from assessment.demo.gallery import Gallery
from assessment.demo.people import Cast
from assessment.demo.plans import Plans
from assessment.demo.replies import answer_to, mistake_of, reply_for
from assessment.demo.story import NOT_YET_TODAY, NOTES, ON_PAPER, SAID_ALOUD, TWO_HOMES
from assessment.demo.taking_part import TakingPart
from assessment.goals.goal_sets import framework_of
from assessment.models import Goal, Look, Tag
from evidence.models import Answer, Submission
from portal.people.models import Child
from tasks.models import DayPlan, Task, TaskPrompt

SHARE_TYPING, TYPED_BY_ALL = 0.45, 3  # others say them aloud; of the last days all are typed
LEFT_WAITING = 5  # of the day before the last
Help = Submission.Help


@dataclass
class Work:
    """Everything sent, still to be stored."""

    cast: Cast
    plans: Plans
    gallery: Gallery
    chance: random.Random
    submissions: list[Submission] = field(default_factory=list)
    answers: list[Answer] = field(default_factory=list)
    looks: list[Look] = field(default_factory=list)
    tags: list[Tag] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Gather what is asked again and again."""
        self.homes = TakingPart(self.chance, self.plans.now)
        self.prompts: dict[int, list[TaskPrompt]] = {}
        for row in self.plans.rows:
            self.prompts.setdefault(row.task_id, []).append(row)
        self.tasks: dict[int, list[Task]] = {}
        for task in self.plans.tasks:
            self.tasks.setdefault(task.day_plan_id, []).append(task)
        self.goals = list(framework_of(self.cast.robins).goals.in_use())
        self.supported = set(self.cast.group.children.values_list("pk", flat=True))

    def send_all(self) -> None:
        """Send work for every day that is out; the last day's waits to be looked at."""
        out = [plan for plan in self.plans.days if plan.is_out]
        for school_class in (self.cast.robins, self.cast.wrens):
            days = [plan for plan in out if plan.school_class_id == school_class.pk]
            for number, plan in enumerate(days):
                left = len(days) - 1 - number
                self.send_day(plan, number, left)
        own = [each for each in self.submissions if each.child.school_class == self.cast.robins]
        waiting = [each for each in own if each.looked_at is None]
        self.gallery.hang_clip(min(waiting, key=lambda each: each.sent_at))

    def send_day(self, plan: DayPlan, number: int, left: int) -> None:
        """Send what came for day *number*; *left*: how many days follow that are out."""
        waiting = LEFT_WAITING if left == 1 else 0
        for name, child in self.cast.children.items():
            if child.school_class_id != plan.school_class_id:
                continue
            if not self.homes.sends(name, plan.date, number, left):
                continue
            sent_at = self.homes.sent_at(name, plan.goes_out_at, left)
            if sent_at:
                waits = left == 0 or (waiting > 0 and name not in NOT_YET_TODAY)
                waiting -= left == 1 and waits
                self.send(plan, child, name, left, waits, sent_at)

    def send(
        self,
        plan: DayPlan,
        child: Child,
        name: str,
        left: int,
        waits: bool,
        sent_at: dt.datetime,
    ) -> None:
        """Send one child's work for a day, and look at it unless it *waits*."""
        chance, posted = self.chance, name in ON_PAPER
        second = name == TWO_HOMES and plan.date.weekday() >= 3
        home = self.cast.homes[f"{name} 2" if second else name]
        submission = Submission(
            child=child,
            home=home,
            day_plan=plan,
            sent_by=self.cast.assistant if posted else self.cast.adults[home.pk],
            sent_at=sent_at,
            note="" if posted else chance.choice(NOTES),
            help=self.help_given(left),
            by_staff=posted,
        )
        self.submissions.append(submission)
        task = self.main_task(plan, child)
        mistake = mistake_of(name, task, self.plans.weeks_back(plan.date))
        rows = self.prompts[task.pk]
        types = not posted and (mistake or left < TYPED_BY_ALL or chance.random() < SHARE_TYPING)
        given = [answer_to(row, mistake, chance) for row in rows] if types else []
        if not types and not posted and not submission.note:
            submission.note = chance.choice(SAID_ALOUD)
        self.answers += [
            Answer(submission=submission, prompt=row, text=text, help=submission.help)
            for row, text in zip(rows, given, strict=False)
        ]
        self.gallery.hang(submission, task, rows, given, mistake, left)
        if not waits:
            self.look_at(submission, task, mistake)
            # What was said to the last day's work, its home has still to read.
            submission.opened_at = submission.looked_at if left > 1 else None

    def main_task(self, plan: DayPlan, child: Child) -> Task:
        """Return the main task that *child* is set on a day."""
        main = [task for task in self.tasks[plan.pk] if task.part == Task.Part.MAIN_TASK]
        own = [task for task in main if task.group_id and child.pk in self.supported]
        return (own or [task for task in main if not task.group_id])[0]

    def help_given(self, left: int) -> str:
        """Say how much help there was: less towards the end of the term."""
        weights = (2, 4, 5) if left > 25 else (3, 5, 3) if left > 10 else (5, 4, 2)
        return self.chance.choices((Help.ALONE, Help.A_LITTLE, Help.TOGETHER), weights)[0]

    def look_at(self, submission: Submission, task: Task, mistake: str) -> None:
        """Reply to one piece of work, and tag it."""
        chance = self.chance
        by = self.cast.assistant if chance.random() < 0.2 else self.cast.teacher
        after = submission.sent_at + dt.timedelta(hours=chance.randint(2, 20))
        submission.looked_at = min(after, self.plans.now - dt.timedelta(minutes=2))
        reply, next_step = reply_for(task.kind, mistake, submission.child, chance)
        self.looks.append(
            Look(
                submission=submission,
                looked_by=by,
                looked_at=submission.looked_at,
                reply=reply,
                next_step=next_step,
            )
        )
        for goal in self.goals_for(task.kind):
            tag = Tag.on(
                *(submission, goal.pk, self.how_shown(submission, mistake)),
                tagged_by=by,
                by_assistant=by == self.cast.assistant,
                tagged_at=submission.looked_at,
            )
            self.tags.append(tag)

    def goals_for(self, kind: str) -> list[Goal]:
        """Give the goals that work of *kind* is tagged with: the most direct, at times a second."""
        fitting = [goal for goal in self.goals if kind in goal.kinds]
        fitting.sort(key=lambda goal: goal.kinds.index(kind))
        return fitting[: 2 if self.chance.random() < 0.3 else 1]

    def how_shown(self, submission: Submission, mistake: str) -> str:
        """Say how a goal was shown."""
        if mistake:
            return Tag.How.NOT_YET if submission.help == Help.ALONE else Tag.How.WITH_SUPPORT
        if submission.help != Help.ALONE:
            return Tag.How.WITH_SUPPORT
        new = self.chance.random() < 0.12
        return Tag.How.NEW_SITUATION if new else Tag.How.INDEPENDENTLY

    def store(self) -> None:
        """Store all of it, pieces last."""
        Submission.objects.bulk_create(self.submissions)
        Answer.objects.bulk_create(self.answers)
        Look.objects.bulk_create(self.looks)
        Tag.objects.bulk_create(self.tags)
