"""A person's saved phrases: keeping, ordering and losing them, and filling them in for a child."""

from dataclasses import dataclass

from django.db import transaction
from django.db.models import Max
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from assessment.day_parts import title_of
from assessment.looks.models.phrases import LONGEST, MOST
from assessment.models import SavedPhrase
from portal.people.models import Child, User

CHILD, TASK = "{child}", "{task}"
KEYS = ("5", "6", "7", "8", "9")  # 1 to 4 say how a goal was shown.
# To start from. Praise is about the work. Common practice, no source.
STARTERS = (
    gettext_lazy("You worked that out step by step, {child}. How did you check?"),
    gettext_lazy("I can see how you did the {task}, {child}. Show somebody how you know!"),
    gettext_lazy("Nearly, {child}. Do it once more with things you can touch, one at a time."),
    gettext_lazy("You tried a new way, {child}. Which way do you like better, and why?"),
    gettext_lazy("Thank you, {child}. Say the number sentence aloud when you do it again."),
)


class TooManyPhrasesError(Exception):
    """As many phrases are saved as anybody may save."""


@dataclass(frozen=True)
class PhraseToHand:
    """A phrase filled in for one piece of work, and the key that puts it in ("" for none)."""

    text: str
    key: str = ""


def filled(text: str, child: Child, kinds: list[str]) -> str:
    """Put the child's first name for {child} in *text*, and the work of *kinds* for {task}.

    kinds: the weightiest first; none gives "number work".
    """
    return text.replace(CHILD, child.first_name).replace(TASK, named(kinds))


def named(kinds: list[str]) -> str:
    """Return the work of the first of *kinds* as it stands within a sentence.

    >>> named(["can-it-be-halved"]), named(["adding", "halving"])
    ('can it be halved', 'adding')
    """
    if not kinds:
        return _("number work")
    title = title_of(kinds[0]).rstrip("?")
    return title[:1].lower() + title[1:]


def to_hand(user: User, child: Child, kinds: list[str]) -> list[PhraseToHand]:
    """Return the phrases of *user* filled in for *child*; the first five with a key."""
    texts = [filled(phrase.text, child, kinds) for phrase in SavedPhrase.objects.of(user)]
    keys = [*KEYS, *[""] * len(texts)]
    return [PhraseToHand(text, key) for text, key in zip(texts, keys, strict=False)]


def general(reply: str, child: Child) -> str:
    """Return *reply* as a phrase that fits any child: {child} where it names this one."""
    return " ".join(reply.replace(child.first_name, CHILD).split())[:LONGEST]


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
        keep_phrase(user, str(text))


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
