"""What each part of a drafted day asks: which kind, how far and how much, and its prompts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from tasks.numberwork.kinds import EVERY_KIND
from tasks.numberwork.prompt import Prompt
from tasks.numberwork.sequences.filling import Drawn, Facts, Slot, fill
from tasks.numberwork.sequences.only import EVERYTHING, Only
from tasks.numberwork.sequences.practice import Choice


@dataclass(frozen=True, slots=True)
class Use:
    """What a part of a day is to be about; explains: the child is asked how it knows.

    versions: of a main task, what a group works at that has another depth.
    """

    day: int
    part: str
    choice: Choice
    explains: bool = False
    versions: Mapping[str, Choice] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class PartDraft:
    """One part of a day: what is drawn, what it is done with at home, and the prompts.

    only: what of the kind. idea: one of the kind's alternatives from the kitchen, another one
    each time; "" where nothing is needed. explains: the child is asked each time how it knows.
    versions: of a main task, what is drawn for a group of another depth: as many prompts.
    """

    kind: str
    within: int
    count: int
    seed: int
    depth: str
    drawn: tuple[Prompt, ...]
    only: Only = EVERYTHING
    idea: str = ""
    explains: bool = False
    versions: Mapping[str, Choice] = field(default_factory=dict)

    @property
    def choice(self) -> Choice:
        """Return what is drawn."""
        return Choice(self.kind, self.within, self.count, self.depth, only=self.only)

    def prompts(self) -> tuple[Prompt, ...]:
        """Return the prompts of the part, from easy to hard."""
        return self.drawn


def draft_parts(uses: Sequence[Use], seed: int, met: Facts) -> list[dict[str, PartDraft]]:
    """Draft the parts of every day by name, in order of days.

    met: facts that main tasks asked before the first day.
    """
    slots = [Slot(use.day, use.choice, part=use.part) for use in uses]
    days: dict[int, dict[str, PartDraft]] = {}
    turns: dict[str, int] = {}
    for use, drawn in zip(uses, fill(slots, seed, met=met), strict=True):
        if drawn is not None:
            days.setdefault(use.day, {})[use.part] = _part(use, drawn, turns)
    return [days[day] for day in sorted(days)]


def _part(use: Use, drawn: Drawn, turns: dict[str, int]) -> PartDraft:
    """Put a part together; turns: how often each kind was tried at home."""
    choice = use.choice
    turn = turns.get(choice.kind, 0)
    turns[choice.kind] = turn + (use.part == "try_at_home")
    fetch = EVERY_KIND[choice.kind].fetch
    return PartDraft(
        choice.kind,
        choice.within,
        len(drawn.prompts),
        drawn.seed,
        choice.depth,
        drawn.prompts,
        choice.only,
        fetch[turn % len(fetch)] if fetch else "",
        use.explains,
        use.versions,
    )
