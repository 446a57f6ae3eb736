"""What a kind of prompt is: the question types of early number work."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from tasks.numberwork.cautions import Caution, cautions_for
from tasks.numberwork.pictures.picture import Picture
from tasks.numberwork.prompt import Answer


@dataclass(frozen=True, slots=True)
class Ask:
    """A question before it is put into words: one fact asked in one form.

    fact names what is asked about; fact and form together are unique within a kind.
    """

    form: str
    fact: str
    numbers: tuple[int, ...]
    answer: Answer
    mistakes: Mapping[str, Answer] = field(hash=False)
    answers: tuple[Answer, ...] = ()
    choices: tuple[str, ...] = ()
    things: tuple[str, ...] = ()


def no_things(ask: Ask, variant: int) -> tuple[str, ...]:
    """Return the names the question itself brings along, whatever the variant."""
    return ask.things


def no_picture(ask: Ask, depth: str, variant: int) -> Picture | None:
    """Return no picture: the question is put in words alone."""
    return None


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of question, with what the teacher and the adult at home need to know of it.

    ranges: the values of *within* it makes sense for.
    forms: each way of asking it, in a teacher's words.
    mistakes: each mistake it can show, as the start of a sentence that ends "in 3 of 4".
    depths: how with support, core and challenge differ.
    fetch: what to use from the kitchen, as alternatives; nothing that must be bought.
    say: what the adult says. right: what a good try looks like.
    asks lists every question for a range and depth; picture draws one; variants counts the
    outer variations (objects in a story, places of scattered dots) chosen by the seed.
    one_number: all prompts of a set are about one number.
    seconds: what one prompt takes a child and an adult, beside reading it aloud. Recall is quick,
    things to count out take longer (common practice, no source).
    together: it is done aloud or by showing, and nobody writes or types an answer.
    """

    name: str
    title: str
    practises: str
    ranges: tuple[int, ...]
    example: str
    forms: Mapping[str, str]
    mistakes: Mapping[str, str]
    depths: Mapping[str, str]
    fetch: tuple[str, ...]
    say: str
    right: str
    asks: Callable[[int, str], Iterable[Ask]]
    picture: Callable[[Ask, str, int], Picture | None] = no_picture
    things: Callable[[Ask, int], tuple[str, ...]] = no_things
    variants: int = 1
    one_number: bool = False
    seconds: int = 30
    together: bool = False

    @property
    def asks_how(self) -> bool:
        """Whether the adult asks how the child knows, and not only what."""
        return bool(re.search(r"\bHow (do|did|can) you\b", self.say))

    @property
    def cautions(self) -> list[Caution]:
        """Return what the things to use call for."""
        return cautions_for(" ".join(self.fetch))


def wrong_answers(predicted: Mapping[str, Answer | None], right: Answer) -> dict[str, Answer]:
    """Keep the predictions that are answers a child could give and that are not right.

    Leaves out None, numbers below 0, and any equal to *right*: a mistake that gives the right
    answer cannot be seen, so it gets no label.
    """
    return {
        name: answer
        for name, answer in predicted.items()
        if answer is not None and answer != right and not (isinstance(answer, int) and answer < 0)
    }
