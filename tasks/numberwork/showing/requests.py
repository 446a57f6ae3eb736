"""What a family is asked to show: one exact request for each kind, in few fixed sentences."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from tasks.numberwork.kinds.counting import STEP_NAMES
from tasks.numberwork.prompt import Prompt

PHOTO, CLIP, VOICE = "photo", "clip", "voice"
NUMBER = "{0}"


@dataclass(frozen=True, slots=True)
class Request:
    """One thing to show: by which medium, and in which words. `NUMBER` stands for the number."""

    medium: str
    words: str


COUNT_ALOUD = Request(VOICE, "Record your child as they count aloud on their own.")
TOUCH = Request(CLIP, "Film your child counting aloud: one touch, one number.")
PUT_OUT = Request(PHOTO, "Ask your child to put out exactly {0}. Take a photo.")
ANOTHER_WAY = Request(PHOTO, "Ask: can you show me another way? Take a photo.")
HOW = Request(VOICE, "Ask: how do you know? Record what your child says.")
WRITE = Request(PHOTO, "Let your child write it with no help. Take a photo.")
SAME = Request(PHOTO, "Ask your child to share things out fairly. Take a photo of each side.")
JOIN = Request(PHOTO, "Ask your child to join them one to one. Take a photo.")
STORY = Request(VOICE, "Record your child as they tell the story.")
PATTERN = Request(PHOTO, "Ask your child to make a new pattern. Take a photo.")

# Kinds without a row of their own are asked how they know. Common practice, no source.
REQUESTS: Mapping[str, Request] = MappingProxyType(
    {
        **{
            f"counting-{way}-in-{name}": COUNT_ALOUD
            for way in ("aloud", "on", "back")
            for name in STEP_NAMES.values()
        },
        "counting-amounts": TOUCH,
        "counting-sounds": COUNT_ALOUD,
        "number-names": COUNT_ALOUD,
        "estimate-and-count": TOUCH,
        "count-out": PUT_OUT,
        "number-of-the-day": PUT_OUT,
        "number-of-the-day-shown": PUT_OUT,
        "number-formation": WRITE,
        "number-bonds": ANOTHER_WAY,
        "missing-part": ANOTHER_WAY,
        "adding": ANOTHER_WAY,
        "taking-away": ANOTHER_WAY,
        "doubling": ANOTHER_WAY,
        "story-problems": ANOTHER_WAY,
        "number-stories": STORY,
        "halving": SAME,
        "halving-number-sentence": SAME,
        "sharing-equally": SAME,
        "can-it-be-halved": SAME,
        "matching": JOIN,
        "repeating-patterns": PATTERN,
        "making-patterns": PATTERN,
    }
)


def request_of(kind: str) -> Request:
    """Return the one thing that is asked for with *kind*."""
    return REQUESTS.get(kind, HOW)


def number_to_put_out(prompts: list[Prompt]) -> int | None:
    """Return the number all of *prompts* are about; None where there is none."""
    numbers = [prompt.numbers[0] for prompt in prompts if prompt.numbers]
    return numbers[0] if numbers else None


def request_phrases() -> Iterator[str]:
    """Yield every English request, as a family reads it."""
    yield from dict.fromkeys(one.words for one in (*REQUESTS.values(), HOW))
