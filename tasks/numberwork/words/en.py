"""British English: how each kind and form is written and said.

WRITTEN and SPOKEN go from "kind/form" to a template. In a template {0}, {1} … are the numbers
of the prompt, {0:spoon} counts spoons, {0:things} counts whatever the story is about, {all} is
all numbers with commas, {things[0]} a name. Another language is another module like this one.
"""

from __future__ import annotations

from tasks.numberwork.words import en_stories
from tasks.numberwork.words.en_stories import NAMES, counted

__all__ = ["NAMES", "SPOKEN", "WRITTEN", "counted"]

_STEPS = ("ones", "twos", "fives", "tens")

WRITTEN: dict[str, str] = {
    "one-more/is": "one more than {0} is □",
    "one-more/plus one": "{0} + 1 = □",
    "one-more/unknown": "one more than □ is {0}",
    "one-less/is": "one less than {0} is □",
    "one-less/minus one": "{0} − 1 = □",
    "one-less/unknown": "one less than □ is {0}",
    "number-of-the-day/tally": "the tally shows □",
    "number-of-the-day/dots": "the dots show □",
    "number-of-the-day/one more": "one more than {0} is □",
    "number-of-the-day/one less": "one less than {0} is □",
    "number-of-the-day/tens and ones": "{0} = 10 + □",
    "number-of-the-day/adding": "{0} = {1} + □",
    "number-of-the-day/another way": "{0} = □ + □",
    "adding/total": "{0} + {1} = □",
    "adding/total first": "□ = {0} + {1}",
    "adding/three numbers": "{0} + {1} + {2} = □",
    "doubling/double": "double {0} = □",
    "doubling/add the same": "{0} + {0} = □",
    "doubling/equals first": "□ = {0} + {0}",
    "doubling/unknown": "double □ = {0}",
    "halving/half of": "half of {0} = □",
    "halving/equals first": "□ = half of {0}",
    "halving/unknown": "half of □ = {0}",
    "halving-number-sentence/divided": "{0} ÷ 2 = □",
    "halving-number-sentence/equals first": "□ = {0} ÷ 2",
    "halving-number-sentence/unknown": "□ ÷ 2 = {0}",
}

SPOKEN: dict[str, str] = {
    "one-more/is": "what is one more than {0}?",
    "one-more/plus one": "{0} and one more. How many is that?",
    "one-more/unknown": "one more than which number is {0}?",
    "one-less/is": "what is one less than {0}?",
    "one-less/minus one": "{0} take away one. How many are left?",
    "one-less/unknown": "one less than which number is {0}?",
    "number-of-the-day/tally": "look at the tally. Which number does it show?",
    "number-of-the-day/dots": "look at the dots. How many are there?",
    "number-of-the-day/one more": "what is one more than {0}?",
    "number-of-the-day/one less": "what is one less than {0}?",
    "number-of-the-day/tens and ones": "{0} is one ten and how many ones?",
    "number-of-the-day/adding": "{0} is {1} and how many more?",
    "number-of-the-day/another way": "{0} is what and what? Can you find a different way?",
    "adding/total": "{0} and {1} more. How many altogether?",
    "adding/total first": "how many is the same as {0} add {1}?",
    "adding/three numbers": "{0}, {1} more and {2} more. How many altogether?",
    "doubling/double": "what is double {0}?",
    "doubling/add the same": "{0} and {0} more. How many altogether?",
    "doubling/equals first": "how many is the same as {0} and {0}?",
    "doubling/unknown": "double which number is {0}?",
    "halving/half of": "what is half of {0}?",
    "halving/equals first": "how many is the same as half of {0}?",
    "halving/unknown": "half of which number is {0}?",
    "halving-number-sentence/divided": ("{0} shared equally into two groups. How many in each?"),
    "halving-number-sentence/equals first": "how many is the same as {0} divided by two?",
    "halving-number-sentence/unknown": (
        "a number shared equally into two groups gives {0} in each. Which number?"
    ),
}

for _step in _STEPS:
    WRITTEN |= {
        f"counting-on-in-{_step}/run": "{all}, □",
        f"counting-on-in-{_step}/after": f"count on in {_step}: {{0}}, □",
        f"counting-back-in-{_step}/run": "{all}, □",
        f"counting-back-in-{_step}/after": f"count back in {_step}: {{0}}, □",
    }
    SPOKEN |= {
        f"counting-on-in-{_step}/run": f"count on in {_step}. {{all}}. What comes next?",
        f"counting-on-in-{_step}/after": f"you are counting on in {_step}. What comes after {{0}}?",
        f"counting-back-in-{_step}/run": f"count back in {_step}. {{all}}. What comes next?",
        f"counting-back-in-{_step}/after": (
            f"you are counting back in {_step}. What comes after {{0}}?"
        ),
    }

WRITTEN |= en_stories.TEMPLATES
SPOKEN |= en_stories.TEMPLATES

SAME_MEANING: dict[str, str] = {
    "y": "yes",
    "n": "no",
    "less than": "<",
    "is less than": "<",
    "fewer than": "<",
    "is fewer than": "<",
    "smaller than": "<",
    "greater than": ">",
    "is greater than": ">",
    "more than": ">",
    "is more than": ">",
    "bigger than": ">",
    "equals": "=",
    "equal": "=",
    "equal to": "=",
    "is equal to": "=",
    "the same as": "=",
    "is the same as": "=",
    "same": "the same",
    "equal amounts": "the same",
}
