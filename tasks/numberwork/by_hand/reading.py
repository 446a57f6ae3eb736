"""The numbers a teacher types for a part: exactly these questions, in her order, or why not."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from tasks.numberwork.by_hand.naming import Item, names, short_name
from tasks.numberwork.chance import Chance
from tasks.numberwork.kind import Ask
from tasks.numberwork.kinds import EVERY_KIND
from tasks.numberwork.making import prompt_of
from tasks.numberwork.pool import pool_of
from tasks.numberwork.prompt import DEPTHS, Prompt

MOST = 12  # questions in one part
# Not about numbers, or not about these alone; of numbers to put in order only some sets are asked.
WITHOUT_NUMBERS = frozenset({"halves-of-shapes", "repeating-patterns", "ordinals", "ordering"})
# What a kind cannot ask because something would be left over.
_LEFT_OVER = {
    "halving": "{item} cannot be halved into two equal groups here: one would be left over.",
    "halving-number-sentence": (
        "{item} cannot be halved into two equal groups here: one would be left over."
    ),
    "sharing-equally": "{item} cannot be shared out equally here: some would be left over.",
}


@dataclass(frozen=True, slots=True)
class Found:
    """A question that was typed, where it stands: its depth, and how it is asked."""

    depth: str
    ask: Ask
    key: str


@dataclass(frozen=True, slots=True)
class Typed:
    """What was made of the numbers: the questions in her order, and what cannot be asked.

    refusals: sentences for the teacher; with any of them nothing is to be set.
    """

    found: tuple[Found, ...]
    refusals: tuple[str, ...] = ()

    @property
    def facts(self) -> tuple[str, ...]:
        """Return the facts that are asked, each once, as `Only.facts` takes them."""
        return tuple(dict.fromkeys(each.ask.fact for each in self.found))


def can_be_typed(kind: str) -> bool:
    """Tell whether the questions of *kind* can be named by their numbers."""
    return kind in EVERY_KIND and kind not in WITHOUT_NUMBERS


def read_typed(kind: str, within: int, depth: str, text: str, asked: Collection[str] = ()) -> Typed:
    """Read the numbers typed for a kind that is not about one number.

    Questions are parted by commas, semicolons or new lines; a comma may also stand inside one
    ("7, 8, □, 10"). Each is asked at *depth* if it is asked there, else at the
    nearest; a fact that comes twice is asked in another form. asked: keys of prompts of the same
    day, chosen last.
    """
    texts = [each for each in re.split(r"[;\n]", text) if each.replace(",", " ").strip()]
    reader = _Reader(kind, within, depth, asked)
    for each in texts:
        reader.read(each)
    if not texts:
        reader.refusals.append(f"Type the numbers, like this: {example(kind, within, depth)}")
    elif len(reader.found) > MOST:
        reader.refusals.append(f"Type at most {MOST} questions for one part.")
    return Typed(tuple(reader.found), tuple(reader.refusals))


def made(typed: Typed, kind: str, within: int, seed: int) -> tuple[Prompt, ...]:
    """Put the questions into words and pictures, in order; the seed picks outer variations."""
    known = EVERY_KIND[kind]
    chance = Chance("typed", kind, within, len(typed.found), seed)
    return tuple(
        prompt_of(known, each.ask, within, each.depth, chance.below(known.variants))
        for each in typed.found
    )


def example(kind: str, within: int, depth: str) -> str:
    """Show how the numbers of a kind are typed: up to three of its questions.

    >>> example("adding", 10, "core"), example("halving", 10, "core")
    ('2 + 5, 4 + 5, 10 + 0', '4, 6, 10')
    """
    asks = [ask for ask in pool_of(kind, within, depth).asks if ask.form == _first_form(kind)]
    asks = asks or list(pool_of(kind, within, depth).asks)
    some = dict.fromkeys(
        short_name(kind, asks[min(at, len(asks)) - 1])
        for at in (len(asks) * 2 // 5, len(asks) * 2 // 3, len(asks))
    )
    return joined(list(some))


def joined(each: Sequence[str]) -> str:
    """List questions as they are typed: with semicolons where one has a comma inside."""
    return ("; " if any("," in one for one in each) else ", ").join(each)


def named_by(prompts: Sequence[Prompt]) -> str:
    """Write the questions of a part as they could have been typed; "" where they could not."""
    if not prompts or not all(can_be_typed(prompt.kind) for prompt in prompts):
        return ""
    first = prompts[0]
    if EVERY_KIND[first.kind].one_number:
        return str(first.numbers[0])
    asks = [
        Ask(each.form, each.fact, each.numbers, each.answer, {}, things=each.things)
        for each in prompts
    ]
    text = joined([short_name(first.kind, ask) for ask in asks])
    read = read_typed(first.kind, first.within, first.depth, text)
    same = [each.ask.fact for each in read.found] == [prompt.fact for prompt in prompts]
    return text if same and not read.refusals else ""


def _first_form(kind: str) -> str:
    return next(iter(EVERY_KIND[kind].forms))


class _Reader:
    """Reads one text after the other, and keeps what it found and what it refused."""

    def __init__(self, kind: str, within: int, depth: str, asked: Collection[str]) -> None:
        self.kind, self.within, self.depth, self.asked = kind, within, depth, asked
        self.found: list[Found] = []
        self.refusals: list[str] = []

    def read(self, text: str) -> None:
        """Read a text without semicolons: several questions, or one with commas in it."""
        parts = [Item.read(each) for each in text.split(",") if each.strip()]
        several = [self._best(part) for part in parts]
        if None in several and len(parts) > 1:
            whole = self._best(Item.read(text))
            if whole or not any(several):
                parts, several = [Item.read(text)], [whole]
        for item, best in zip(parts, several, strict=True):
            self._take(item, best)

    def _take(self, item: Item, best: list[Found] | None) -> None:
        if not best:
            self.refusals.append(self._why_not(item))
            return
        used = {each.key for each in self.found}
        left = [each for each in best if each.key not in used]
        if not left:
            self.refusals.append(f"“{item.text}” is there twice. Take one out.")
            return
        fresh = [each for each in left if each.key not in self.asked]
        self.found.append((fresh or left)[0])

    def _best(self, item: Item) -> list[Found] | None:
        """Return the questions that *item* names as closely as any does, the nearest first."""
        return _named(self.kind, self.within, self.depth, item)

    def _why_not(self, item: Item) -> str:
        """Say why *item* cannot be asked, and what to do."""
        larger = [more for more in EVERY_KIND[self.kind].ranges if more > self.within]
        fits = (more for more in larger if _named(self.kind, more, self.depth, item))
        if more := next(fits, None):
            return (
                f"“{item.text}” needs numbers up to {more}. Choose that below, or type "
                f"smaller numbers than that."
            )
        whole = item.numbers[:1]
        if self.kind in _LEFT_OVER and whole and 0 < whole[0] <= self.within:
            return _LEFT_OVER[self.kind].format(item=item.text)
        how = example(self.kind, self.within, self.depth)
        return f"“{item.text}” cannot be asked here. Type it like this: {how}"


def _named(kind: str, within: int, depth: str, item: Item) -> list[Found] | None:
    """List what *item* names most closely: of the nearest depth first, forms as the kind lists."""
    forms = list(EVERY_KIND[kind].forms)
    ranked: list[tuple[tuple[int, int, int], Found]] = []
    for far, each, pool_key, ask in _questions(kind, within, depth):
        if (close := names(item, ask, kind)) is not None:
            ranked.append(((close, far, forms.index(ask.form)), Found(each, ask, pool_key)))
    if not ranked:
        return None
    closest = min(rank[0] for rank, _found in ranked)
    ranked.sort(key=lambda pair: pair[0])
    return [found for rank, found in ranked if rank[0] == closest]


def _questions(kind: str, within: int, depth: str) -> Iterator[tuple[int, str, str, Ask]]:
    """Yield every question of a range: how far its depth is from *depth*, that, its key, itself."""
    own = DEPTHS.index(depth)
    for place, each in enumerate(DEPTHS):
        pool = pool_of(kind, within, each)
        for key, ask in zip(pool.keys, pool.asks, strict=True):
            yield abs(place - own), each, key, ask
