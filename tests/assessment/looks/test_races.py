"""Many at one piece at once: one wins, the others are told, and nothing that was saved is lost.

RACES=1000 runs as many of the first kind; a few run with all other tests.
"""

import os
import random
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field

import pytest
from django.db import OperationalError, connection

from assessment.looks.lead_marks import mark_for_lead
from assessment.looks.looking import LookData, LookedMeanwhileError, WithdrawnError, save_look
from assessment.models import LeadMark, Look
from evidence.media import Kind
from evidence.models import Piece, Submission
from evidence.storage.store import Incoming
from evidence.uploads.arrivals import NotSavedError, TooLateError, Words, add
from evidence.uploads.turn_requests import ask_for_family
from evidence.uploads.upload_handler import ArrivedFile
from evidence.uploads.withdrawal import withdraw
from portal.people.models import User
from tests.assessment.builders import goal, send, set_day
from tests.evidence.builders import jpeg, make_ready_piece
from tests.evidence.conftest import own_store
from tests.village import Village

pytestmark = [pytest.mark.servers, pytest.mark.django_db(transaction=True)]
__all__ = ["own_store"]
SEED = 20261125
RACES = int(os.environ.get("RACES", "20"))
EDITS = 3  # by each of three people
LOCKED = 0.005  # seconds until the next try: SQLite in memory does not wait for a lock
SAVED, TOLD = "saved", "told"
HOW = {"teacher": "independently", "assistant": "with support", "lead": "not yet"}


@dataclass
class Race:
    """One piece of work, and what became of each action at it."""

    village: Village
    work: Submission
    piece: Piece
    outcomes: dict[str, str] = field(default_factory=dict)
    faults: list[BaseException] = field(default_factory=list)

    def run(self, names: list[str]) -> "Race":
        """Do the actions *names* at once, each in a thread of its own."""
        start = threading.Barrier(len(names))
        threads = [threading.Thread(target=self.do, args=(name, start)) for name in names]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        return self

    def do(self, name: str, start: threading.Barrier) -> None:
        """Do one action, and note whether it was saved or its doer was told that it was not."""
        start.wait()
        try:
            while name not in self.outcomes:
                try:
                    self.action(name)()
                    self.outcomes[name] = SAVED
                except (LookedMeanwhileError, WithdrawnError, TooLateError):
                    self.outcomes[name] = TOLD
                except (OperationalError, NotSavedError):
                    time.sleep(LOCKED)
        except BaseException as fault:  # A thread's own would be lost.
            self.faults.append(fault)
        finally:
            connection.close()

    def action(self, name: str) -> Callable[[], object]:
        """Return what *name* stands for: a look by one of the staff, or an action of a family's."""
        actions = {
            "withdraw": lambda: withdraw(Submission.objects.get(pk=self.work.pk)),
            "replace": lambda: add(self.work, Words(note="Now with a photo"), [photo()]),
            "turn": lambda: ask_for_family(self.piece, 90),
            "mark": lambda: mark_for_lead(self.work, self.staff("teacher"), "See this"),
        }
        return actions.get(name) or (lambda: self.look(name))

    def look(self, role: str) -> None:
        """Look at the work as one who saw it before anybody had."""
        saying = LookData(f"By {role}", "", {goal().pk: HOW[role]})
        save_look(self.work, self.staff(role), saying, seen_version=0)

    def staff(self, role: str) -> User:
        """Return the member of staff in *role*."""
        return self.village.people[role]


def photo() -> ArrivedFile:
    """Return a photo that has just come in."""
    incoming = Incoming()
    incoming.write(jpeg("orange", (20, 20)))
    return ArrivedFile(incoming, "photo.jpg", Kind.PHOTO, "", failed=False)


@pytest.fixture
def new_race(village):
    """Give a function that begins a race at work which nobody has looked at yet."""
    plan = set_day(village.robins)
    goal()

    def begin() -> Race:
        work = send(village.aisha, village.first_home, plan)
        return Race(village, work, make_ready_piece(work))

    return begin


def faults_of(race: Race) -> list[str]:
    """Compare what each was told with what is stored, and give what does not agree."""
    work = Submission.objects.get(pk=race.work.pk)
    pieces = list(work.pieces.active())
    looks = list(Look.objects.filter(submission=work))
    saved = {name for name, outcome in race.outcomes.items() if outcome == SAVED}
    lookers = saved & HOW.keys()
    ends = [*lookers, *({"withdraw"} & saved)]
    wrong = [repr(fault) for fault in race.faults]
    if len(ends) != bool(race.outcomes.keys() & {*HOW, "withdraw"}):
        wrong.append(f"{ends} all won")
    if {look.reply for look in looks} != {f"By {role}" for role in lookers}:
        wrong.append("the look is not the winner's")
    if [tag.how for tag in work.tags.all()] != [HOW[role] for role in lookers]:
        wrong.append("the tags are not the winner's")
    if (work.withdrawn_at is not None) != ("withdraw" in saved):
        wrong.append("it stands although it was taken back, or the other way round")
    if (work.note != "") != ("replace" in saved):
        wrong.append("the family's new words are lost, or there unsaved")
    if work.withdrawn_at is None and len(pieces) != 1 + ("replace" in saved):
        wrong.append("a photo is lost, or there twice")
    if work.withdrawn_at is None and (max(piece.turn for piece in pieces) == 90) != (
        "turn" in saved
    ):
        wrong.append("the turn is lost, or there unasked")
    if LeadMark.objects.filter(submission=work).exists() != ("mark" in saved):
        wrong.append("the mark is lost")
    return wrong


def test_of_all_who_are_at_one_piece_one_wins_and_the_others_are_told(new_race):
    chance = random.Random(SEED)
    names = [*HOW, "withdraw", "replace", "turn", "mark"]
    won: set[str] = set()
    for number in range(RACES):
        chosen = chance.sample(names, k=chance.randint(2, len(names)))
        race = new_race().run(chosen)
        assert set(race.outcomes) == set(chosen)
        assert not faults_of(race), f"race {number} of {chosen}: {race.outcomes} {faults_of(race)}"
        won |= {name for name, outcome in race.outcomes.items() if outcome == SAVED}
        race.work.delete()  # A home may send only so many photos a day.
    assert len(won) > 3  # It is not always the same one that comes first.


def test_whoever_is_told_and_saves_again_on_what_is_there_loses_no_word_of_anybody(new_race):
    race = new_race()
    said = [f"{role} {number}" for role in HOW for number in range(EDITS)]
    start = threading.Barrier(len(HOW))

    def edit(role: str) -> None:
        start.wait()
        mine = [words for words in said if words.startswith(role)]
        while mine:
            try:
                seen = Look.objects.filter(submission=race.work).first()
                version = seen.version if seen else 0
                save_look(race.work, race.staff(role), LookData(mine[0]), version)
                mine.pop(0)
            except (LookedMeanwhileError, OperationalError):
                time.sleep(LOCKED)
        connection.close()

    threads = [threading.Thread(target=edit, args=(role,)) for role in HOW]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    look = Look.objects.get()
    assert look.version == len(said)
    assert sorted([look.reply, *look.past.values_list("reply", flat=True)]) == sorted(said)
