"""A person's saved phrases: keeping, ordering and losing them, and having them to hand."""

from dataclasses import dataclass

from django.db import transaction
from django.db.models import Max

from assessment.looks.models.phrases import LONGEST, MOST
from assessment.looks.ready_made import CHILD, DONE, STARTERS, filled
from assessment.models import SavedPhrase
from portal.people.models import Child, User

KEYS = ("5", "6", "7", "8", "9")  # 1 to 4 say how a goal was shown.


class TooManyPhrasesError(Exception):
    """As many phrases are saved as anybody may save."""


@dataclass(frozen=True)
class PhraseToHand:
    """A phrase filled in for one piece of work, and the key that puts it in ("" for none)."""

    text: str
    key: str = ""


def to_hand(user: User, child: Child, kinds: list[str], done: str = "") -> list[PhraseToHand]:
    """Return the phrases of *user* filled in for *child*; the first five with a key."""
    texts = [filled(phrase.text, child, kinds, done) for phrase in SavedPhrase.objects.of(user)]
    keys = [*KEYS, *[""] * len(texts)]
    return [PhraseToHand(text, key) for text, key in zip(texts, keys, strict=False)]


def general(reply: str, child: Child, done: str = "") -> str:
    """Return *reply* as a phrase that fits any child: {child} where it names this one.

    done: what this one found, for which {done} is put.
    """
    words = reply.replace(done, DONE) if done else reply
    return " ".join(words.replace(child.first_name, CHILD).split())[:LONGEST]


@transaction.atomic
def keep_phrase(user: User, text: str) -> SavedPhrase:
    """Save *text* as the last phrase of *user*; one that is there already stays where it is.

    Raises TooManyPhrasesError.
    """
    own = SavedPhrase.objects.of(user)
    there = own.filter(text=text).first()
    if there is not None:
        return there
    if own.count() >= MOST:
        raise TooManyPhrasesError
    last = own.aggregate(last=Max("position"))["last"]
    return SavedPhrase.objects.create(
        user=user, text=text, position=0 if last is None else last + 1
    )


def keep_starters(user: User) -> None:
    """Save the phrases to start from for *user*. Raises TooManyPhrasesError."""
    for text in STARTERS:
        keep_phrase(user, text)


@transaction.atomic
def place_phrase(phrase: SavedPhrase, position: int) -> None:
    """Put *phrase* at *position* (from 0) among those of its person; past the end, at the end."""
    others = list(SavedPhrase.objects.of(phrase.user_id).exclude(pk=phrase.pk))
    others.insert(max(0, position), phrase)
    for at, each in enumerate(others):
        each.position = at
    SavedPhrase.objects.bulk_update(others, ["position"])


def move_phrase(phrase: SavedPhrase, by: int) -> None:
    """Move *phrase* by so many places: -1 is one up."""
    own = list(SavedPhrase.objects.of(phrase.user_id).values_list("pk", flat=True))
    place_phrase(phrase, own.index(phrase.pk) + by)


def put_back(user: User, text: str, position: int) -> SavedPhrase:
    """Save again, at its old place, a phrase that was removed. Raises TooManyPhrasesError."""
    phrase = keep_phrase(user, text)
    place_phrase(phrase, position)
    return phrase
