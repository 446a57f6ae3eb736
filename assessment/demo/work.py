"""What families of the invented class sent, and what the teacher made of it."""

import datetime as dt
import random
from dataclasses import dataclass

from assessment.demo.drawn_clips import sharing
from assessment.demo.drawn_photos import as_jpeg, plates, squared_page
from assessment.demo.people import NOT_HEARD_FROM, ON_PAPER, SIBLINGS, Cast
from assessment.goals import framework_of
from assessment.models import Goal, Look, Tag
from evidence.media import recognise
from evidence.models import Answer, Piece, Submission
from evidence.store import Incoming
from portal.people.models import Child
from tasks.models import DayPlan, Task

SHARE_SENDING = 0.35  # of the class on one day
REPLIES = (
    (
        "Well shared, {name}. How did you know both plates had the same?",
        "Try an even number past 12.",
    ),
    (
        "I can see every step, {name}. Tell somebody at home how you did it.",
        "Say it as a sentence.",
    ),
    (
        "{name}, you counted each one just once. Look again at the last one.",
        "Share out 8 once more.",
    ),
)
NOTES = (
    "",
    "",
    "We used pasta shells.",
    "Lots of giggling, but done.",
    "The last one was hard today.",
)


@dataclass(frozen=True)
class Drawer:
    """A few drawn files, used again and again, so that the demo starts quickly."""

    photos: tuple[bytes, ...]
    clips: tuple[bytes, ...]

    @classmethod
    def fill(cls, chance: random.Random) -> "Drawer":
        """Draw the files."""
        pages = (["6 + 6 = 12", "4 + 4 = 8"], ["8 ÷ 2 = 4", "6 ÷ 2 = 3", "10 ÷ 2 = 5"])
        shared = ((4, 4, 0, "pasta"), (3, 3, 0, "buttons"), (5, 3, 0, "beans"), (6, 6, 1, "pasta"))
        photos = [as_jpeg(squared_page(lines, chance), turned=True) for lines in pages]
        photos += [as_jpeg(plates((a, b), c, what, chance)) for a, b, c, what in shared]
        return cls(tuple(photos), (sharing(8, "buttons", chance), sharing(6, "beans", chance)))


def make_work(cast: Cast, plans: list[DayPlan], now: dt.datetime) -> None:
    """Send work for every plan that is out, and look at what is older than a day."""
    chance = random.Random("a kitchen table")  # noqa: S311 - a story, not a secret
    drawer = Drawer.fill(chance)
    goals = {goal.code: goal for goal in framework_of(cast.robins).goals.all()}
    for plan in plans:
        if not plan.is_out:
            continue
        for name, child in cast.children.items():
            if child.school_class_id != plan.school_class_id or name in (NOT_HEARD_FROM, ON_PAPER):
                continue
            keen = name in ("Mina A", *dict(SIBLINGS))
            if chance.random() < (0.9 if keen else SHARE_SENDING):
                submission = send(cast, plan, child, name, drawer, chance, now)
                if submission.sent_at < now - dt.timedelta(hours=20):
                    look_at(cast, submission, goals, chance)


def send(
    cast: Cast,
    plan: DayPlan,
    child: Child,
    name: str,
    drawer: Drawer,
    chance: random.Random,
    now: dt.datetime,
) -> Submission:
    """Send one child's answers for a day, and often a photo or a clip."""
    home = cast.homes[name]
    sent_at = min(plan.goes_out_at + dt.timedelta(minutes=chance.randint(90, 600)), now)
    submission = Submission.objects.create(
        child=child,
        home=home,
        day_plan=plan,
        sent_by=home.guardianships.first().adult,
        sent_at=sent_at,
        note=chance.choice(NOTES),
        help=chance.choice(Submission.Help.values),
    )
    task = Task.objects.for_child(child).get(day_plan=plan, part=Task.Part.MAIN_TASK)
    mistaken = plan.date.weekday() < 2 and hash_of(name) % 4 == 0
    Answer.objects.bulk_create(
        Answer(submission=submission, prompt=row, text=answer_to(row, mistaken, chance))
        for row in task.prompts.all()
    )
    if chance.random() < 0.5:
        files = drawer.clips if chance.random() < 0.15 else drawer.photos
        add_piece(submission, chance.choice(files))
    return submission


def hash_of(name: str) -> int:
    """Give a number that stays with *name* from run to run."""
    return sum(map(ord, name))


def answer_to(row: object, mistaken: bool, chance: random.Random) -> str:
    """Give what the child answers: right, but for a slip or the mistake of the week."""
    prompt = row.prompt
    wrong = list(prompt.mistakes.values())
    if wrong and mistaken:
        return str(wrong[0])
    if wrong and chance.random() < 0.08:
        return str(chance.choice(wrong))
    return str(prompt.answer)


def add_piece(submission: Submission, content: bytes) -> None:
    """Put *content* into the store as a piece that has just arrived; the worker does the rest."""
    incoming = Incoming()
    incoming.write(content)
    Piece.objects.create(
        submission=submission,
        kind=recognise(content).kind,
        original=incoming.keep(),
        sha256=incoming.sha256,
        size=incoming.size,
        arrived_at=submission.sent_at,
    )


def look_at(
    cast: Cast, submission: Submission, goals: dict[str, Goal], chance: random.Random
) -> None:
    """Reply to one submission and tag it."""
    reply, next_step = chance.choice(REPLIES)
    looked_at = submission.sent_at + dt.timedelta(hours=chance.randint(2, 12))
    by = cast.assistant if chance.random() < 0.2 else cast.teacher
    Look.objects.create(
        submission=submission,
        looked_by=by,
        looked_at=looked_at,
        reply=reply.format(name=submission.child.first_name),
        next_step=next_step,
    )
    how = {
        Submission.Help.ALONE: Tag.How.INDEPENDENTLY,
        Submission.Help.A_LITTLE: Tag.How.WITH_SUPPORT,
        Submission.Help.TOGETHER: Tag.How.WITH_SUPPORT,
    }[submission.help]
    for code in ("ELG-NP-3", "ELG-NUM-3") if chance.random() < 0.4 else ("ELG-NP-3",):
        Tag.objects.create(
            submission=submission,
            goal=goals[code],
            how=how,
            tagged_by=by,
            by_assistant=by == cast.assistant,
            tagged_at=looked_at,
        )
    Submission.objects.filter(pk=submission.pk).update(looked_at=looked_at)
