"""What a teacher wants to know of a kind of number work: forms, depths, mistakes, what is next."""

from dataclasses import dataclass

from django.utils.safestring import SafeString

from portal.people.models import Group
from tasks.cards.card import Line, filled_in
from tasks.models import TaskPrompt
from tasks.numberwork import DEPTHS, KINDS, ROUTES, Kind, Route, how_many, make_prompts
from tasks.numberwork.mistakes.next_steps import NEXT_STEPS

SHOWN_WITHIN = 10
LOOKED_AT = 20  # prompts searched for one in which a mistake shows
SEED = 1  # any: the page shows the same examples each time


@dataclass(frozen=True, slots=True)
class DepthShown:
    """A depth of a kind in words, with an example as a family would see it."""

    label: str
    words: str
    example: Line


@dataclass(frozen=True, slots=True)
class MistakeShown:
    """A mistake in a teacher's sentence, a question answered so, and what to do next."""

    sentence: str
    example: str
    picture: SafeString
    next_step: str


@dataclass(frozen=True, slots=True)
class StepShown:
    """One step of a route: the title of its kind, its name in addresses, its depth."""

    name: str
    title: str
    depth: str
    needed: bool


@dataclass(frozen=True, slots=True)
class KindSheet:
    """All of a kind that helps a teacher to choose it."""

    kind: Kind
    depths: list[DepthShown]
    forms: list[str]
    mistakes: list[MistakeShown]
    route: Route
    before: list[Kind]
    steps: list[StepShown]
    onward: list[Kind]


def kind_sheet(name: str) -> KindSheet:
    """Put the sheet of a kind together. Raises KeyError for a name that is none."""
    kind, route = KINDS[name], ROUTES[name]
    return KindSheet(
        kind=kind,
        depths=[_depth(kind, depth) for depth in DEPTHS],
        forms=list(dict.fromkeys(kind.forms.values())),
        mistakes=_mistakes(kind),
        route=route,
        before=[KINDS[each] for each in route.before],
        steps=[
            StepShown(step.kind, KINDS[step.kind].title, Group.Depth(step.depth).label, step.needed)
            for step in route.steps
        ],
        onward=[KINDS[other] for other, its in ROUTES.items() if name in its.before],
    )


def _depth(kind: Kind, depth: str) -> DepthShown:
    """Show a depth by one prompt, in numbers of the size that is usual in the class."""
    prompt = make_prompts(kind.name, _within(kind), 1, SEED, depth=depth)[0]
    row = TaskPrompt.of(None, 0, prompt)
    return DepthShown(Group.Depth(depth).label, kind.depths[depth], Line.of(row))


def _within(kind: Kind) -> int:
    """Return the range to show a kind in: up to ten, or else its smallest."""
    fitting = [within for within in kind.ranges if within <= SHOWN_WITHIN]
    return max(fitting, default=kind.ranges[0])


def _mistakes(kind: Kind) -> list[MistakeShown]:
    """Show each mistake by a prompt in which it can be seen, where there is one in sight.

    Prompts of the core and with larger numbers come first: in those a mistake is seen best.
    """
    examples: dict[str, tuple[str, SafeString]] = {}
    for within in (_within(kind), max(kind.ranges)):
        for depth in sorted(DEPTHS, key=lambda depth: depth != Group.Depth.CORE):
            there = min(LOOKED_AT, how_many(kind.name, within, depth))
            prompts = make_prompts(kind.name, within, there, SEED, depth=depth)
            for prompt in sorted(prompts, key=lambda each: -max(each.numbers, default=0)):
                for name, answer in prompt.mistakes.items():
                    if name not in examples:
                        picture = Line.of(TaskPrompt.of(None, 0, prompt)).picture
                        examples[name] = (filled_in(prompt.sentence, answer), picture)
    nothing = ("", SafeString(""))
    return [
        MistakeShown(sentence, *examples.get(name, nothing), NEXT_STEPS[name])
        for name, sentence in kind.mistakes.items()
    ]
