"""British English: short stories for adding and taking away, and how things are counted."""

from __future__ import annotations

# {many} is the plural of what the story is about, {place} where it is.
STORIES: dict[str, str] = {
    "add to, result unknown": (
        "There {0:is} {0:things} {place}. You put {1} more there. How many {many} are there now?"
    ),
    "add to, change unknown": (
        "There {0:is} {0:things} {place}. You put some more there. "
        "Now there {1:is} {1:things}. How many did you put there?"
    ),
    "add to, start unknown": (
        "There are some {many} {place}. You put {0} more there. "
        "Now there {1:is} {1:things}. How many were there before?"
    ),
    "take from, result unknown": (
        "There {0:is} {0:things} {place}. You take {1} away. How many {many} are left?"
    ),
    "take from, change unknown": (
        "There {0:is} {0:things} {place}. You take some away. "
        "Now there {1:is} {1:things} left. How many did you take?"
    ),
    "take from, start unknown": (
        "There are some {many} {place}. You take {0} away. "
        "Now there {1:is} {1:things} left. How many were there before?"
    ),
    "put together, total unknown": (
        "There {0:is} {0:big things} and {1:small things} {place}. "
        "How many {many} are there altogether?"
    ),
    "put together, one part unknown": (
        "There {0:is} {0:things} {place}. {1} {1:is} big and the rest are small. "
        "How many are small?"
    ),
    "put together, both parts unknown": (
        "You have {0:things} to put in two boxes. How many go in one box and how many in the other?"
    ),
    "compare, difference unknown, more": (
        "You have {0:things}. I have {1:things}. How many more {many} do I have than you?"
    ),
    "compare, difference unknown, fewer": (
        "You have {0:things}. I have {1:things}. How many fewer {many} do you have than I have?"
    ),
    "compare, larger unknown, more": (
        "I have {0:more things} than you. You have {1:things}. How many {many} do I have?"
    ),
    "compare, larger unknown, fewer": (
        "You have {0:fewer things} than I have. You have {1:things}. How many {many} do I have?"
    ),
    "compare, smaller unknown, more": (
        "I have {0:more things} than you. I have {1:things}. How many {many} do you have?"
    ),
    "compare, smaller unknown, fewer": (
        "You have {0:fewer things} than I have. I have {1:things}. How many {many} do you have?"
    ),
}

_TWO_BOXES = "put together, both parts unknown"

SPOKEN: dict[str, str] = {f"story-problems/{form}": story for form, story in STORIES.items()}
WRITTEN: dict[str, str] = {
    f"story-problems/{form}": f"{story} {'□ and □' if form == _TWO_BOXES else '□'}"
    for form, story in STORIES.items()
}

# A story without its question: the sign that it needs is asked for.
_TOLD = {
    f"number-stories/sign, {how}": STORIES[form].partition("How many")[0].strip()
    for how, form in (
        ("put there", "add to, result unknown"),
        ("taken away", "take from, result unknown"),
    )
}
SPOKEN |= {key: f"{told} Do you add or take away?" for key, told in _TOLD.items()}
WRITTEN |= {key: f"{told} Which sign: + or −? □" for key, told in _TOLD.items()}

_VERBS = {"is": "are"}


def counted(number: int, said: str, noun: str) -> str:
    """Count things ("two spoons"), or fit a verb to the number ({0:is} gives "is" or "are").

    >>> counted(1, "one", "spoon"), counted(2, "two", "dish"), counted(2, "two", "is")
    ('one spoon', 'two dishes', 'are')
    """
    if noun in _VERBS:
        return noun if number == 1 else _VERBS[noun]
    return f"{said} {noun if number == 1 else plural(noun)}"


def plural(noun: str) -> str:
    """Return the plural of a kitchen noun.

    >>> plural("cup"), plural("box"), plural("leaf")
    ('cups', 'boxes', 'leaves')
    """
    if noun.endswith("leaf"):
        return f"{noun[:-1]}ves"
    return f"{noun}es" if noun.endswith(("sh", "ss", "x")) else f"{noun}s"
