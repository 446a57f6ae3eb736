"""An evening of looking: ten kinds of work wait for a class's teacher, three of each."""

import io

from PIL import Image

from assessment.looks.phrases import keep_starters
from evidence.models import Submission
from portal.people.models import Child, Home
from tasks.models import DayPlan
from tests.assessment.builders import at, goal, send, set_day
from tests.evidence.builders import make_ready_piece
from tests.village import Village, make_child

PHOTO = ("display", "image/jpeg", "photo")
CLIP = ("clip", "video/mp4", "clip")
VOICE = ("sound", "audio/mp4", "voice")
# Each kind: its pieces, its typed answers, and what else is said of it.
KINDS: dict[str, tuple[list[tuple[str, str, str]], str, dict[str, object]]] = {
    "one photo": ([PHOTO], "", {"help": "alone"}),
    "three photos": ([PHOTO] * 3, "", {"help": "a little"}),
    "clip": ([CLIP], "", {"help": "alone"}),
    "voice note": ([VOICE], "", {"help": "alone"}),
    "all right": ([], "right", {"help": "alone"}),
    "with a mistake": ([], "doubled", {"help": "alone"}),
    "photo and answers": ([PHOTO], "right", {"help": "a little"}),
    "a word alone": ([], "", {"note": "We did it with beans on the train."}),
    "on paper": ([PHOTO], "", {"by_staff": True}),
    "two the same day": ([PHOTO], "right", {"help": "together"}),
}
ROUNDS = 3


def upright(shade: int) -> bytes:
    """Return a photo as a phone held upright takes it."""
    out = io.BytesIO()
    Image.new("RGB", (1200, 1600), (170, shade, 90)).save(out, "JPEG")
    return out.getvalue()


def evening(village: Village) -> list[tuple[str, Submission]]:
    """Have thirty pieces wait for the teacher of Robins, oldest first, each with its kind."""
    goal()
    keep_starters(village.people["teacher"])
    plan = set_day(village.robins)
    children = [make_child(village.robins, f"Child{number}", "Z") for number in range(30)]
    twice = len(KINDS) - 1
    found = []
    for number in range(ROUNDS * len(KINDS)):
        name = list(KINDS)[number % len(KINDS)]
        child = children[(number - 1 if number % len(KINDS) == twice else number)]
        found.append((name, sent(name, child, village.first_home, plan, number)))
    return found


def sent(name: str, child: Child, home: Home, plan: DayPlan, number: int) -> Submission:
    """Send work of the kind *name*, the *number*-th of the evening."""
    pieces, answers, more = KINDS[name]
    begun = at(plan.school_class, plan.date)
    work = send(
        child,
        None if more.get("by_staff") else home,
        plan,
        answers=answers,
        sent_at=begun.replace(hour=17, minute=number),
        **more,
    )
    for position, (role, media_type, kind) in enumerate(pieces):
        content = upright(100 + 3 * number + position) if kind == "photo" else b"no sound"
        piece = make_ready_piece(work, content, role, media_type, kind, position)
        piece.renditions.filter(role="display").update(width=1200, height=1600)
    return work
