"""How much longer pages take when a school has sent 50,000 pieces than when it sent 500."""

import random
import statistics
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

from django.test import Client
from django.utils import timezone

from portal.people.models import SchoolClass, User
from tests.assessment.big_school import (
    copy,
    last_days,
    let_wait,
    make_big_school,
    own_databases,
    send_work,
    set_days,
    use,
)
from tests.benchmarks import Figure, seconds

GOALS = 40
CLASSES, FEW_DAYS, MANY_DAYS = 10, 17, 167  # 510 pieces of one class; 50,100 of ten
RUNS = 9


def measure() -> Iterator[Figure]:
    """Return the ratios for queue, grid, child, gaps and week, and for a full class page."""
    with tempfile.TemporaryDirectory() as folder, own_databases(Path(folder)) as bare:
        small, large = copy(bare, "small.sqlite3"), copy(bare, "large.sqlite3")
        empty, full = copy(bare, "empty.sqlite3"), copy(bare, "full.sqlite3")
        pages = {path: fill(path) for path in (small, large, empty, full)}[large]
        use(small)
        send(1, FEW_DAYS)
        use(large)
        send(CLASSES, MANY_DAYS)
        for name, address in pages.items():
            found = compare(address, large, small)
            held = 1.3 if name in ("queue", "grid", "child", "week") else None
            yield Figure(f"{name} page, 50,000 pieces sent / 500", found, "times", most=held)
        use(full)
        send(1, MANY_DAYS)
        found = compare(pages["grid"], full, empty)
        yield Figure("class page, a year of 30 × 40 / empty", found, "times", most=2)


def fill(path: Path) -> dict[str, str]:
    """Make the school without any work in the database at *path*, and give the pages to ask for."""
    use(path)
    goals = GOALS if path.stem in ("empty", "full") else 0
    school_class = make_big_school(timezone.localdate(), CLASSES, goals=goals)[0]
    pk, child = school_class.pk, school_class.children.first().pk
    return {
        "queue": f"/classes/{pk}/look/",
        "grid": f"/classes/{pk}/goals/",
        "child": f"/children/{child}/",
        "week": f"/classes/{pk}/weeks/{timezone.localdate():%G-W%V}/",
        "goal": f"/classes/{pk}/goals/1/",
        "gaps": f"/classes/{pk}/gaps/",
        "next groups": f"/classes/{pk}/next-groups/",
        "judgements": f"/classes/{pk}/judgements/",
    }


def send(classes: int, days: int) -> None:
    """Let the first *classes* send work for the last *days*; the latest of the first one waits."""
    chance = random.Random(1)
    for school_class in SchoolClass.objects.order_by("pk")[:classes]:
        plans = set_days(school_class, last_days(timezone.localdate(), days))
        send_work(school_class, plans, chance)
    let_wait(SchoolClass.objects.order_by("pk").first())


def compare(address: str, large: Path, small: Path) -> float:
    """Return how many times as long *address* takes in *large*: the median of pairs, in turn."""
    ask_large, ask_small = asking(address, large), asking(address, small)
    return statistics.median(timed(ask_large, large) / timed(ask_small, small) for _ in range(RUNS))


def asking(address: str, path: Path) -> Callable[[], None]:
    """Return what asks for *address* as the teacher, signed in once."""
    use(path)
    client = Client()
    client.force_login(User.objects.get(email="bench-teacher@example.org"))

    def ask() -> None:
        answer = client.get(address)
        assert answer.status_code == 200, (address, answer.status_code)

    return ask


def timed(ask: Callable[[], None], path: Path) -> float:
    """Return how long *ask* takes once the database at *path* is warm."""
    use(path)
    ask()
    return min(seconds(ask) for _ in range(2))
