"""British English: how each kind and form is written and said.

WRITTEN and SPOKEN go from "kind/form" to a template. In a template {0}, {1} … are the numbers
of the prompt, {0:spoon} counts spoons, {0:things} counts whatever the story is about, {all} is
all numbers with commas, {row} all things with commas, {many} and {place} belong to a story;
{0:word} is the number as a word even in writing. Another language is another module like this one.
"""

from __future__ import annotations

from tasks.numberwork.words import en_stories
from tasks.numberwork.words.en_stories import counted, plural

__all__ = ["ARTICLES", "GAP", "SAME_MEANING", "SPOKEN", "WRITTEN", "counted", "plural"]

GAP = "something missing"  # how a box among things is said

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
    "missing-number/box first": "□, {0}, {1}, {2}",
    "missing-number/box second": "{0}, □, {1}, {2}",
    "missing-number/box third": "{0}, {1}, □, {2}",
    "hundred-square/covered": "the covered number is □",
    "hundred-square/right": "the number just right of {0} is □",
    "hundred-square/left": "the number just left of {0} is □",
    "hundred-square/below": "the number just below {0} is □",
    "hundred-square/above": "the number just above {0} is □",
    "number-formation/trace": "trace {0}, then write it: □",
    "number-formation/hear": "write the number {0:word}: □",
    "number-formation/amount": "write how many: □",
    "number-formation/after": "write the number after {0:word}: □",
    "subitising/dice": "look, do not count: □",
    "subitising/fingers": "look, do not count: □",
    "subitising/frame": "look, do not count: □",
    "subitising/scattered": "look, do not count: □",
    "subitising/things": "look, do not count: □",
    "subitising/two parts": "look at both rows: □ altogether",
    "counting-amounts/rows": "how many are there? □",
    "counting-amounts/scattered": "how many are there? □",
    "counting-amounts/frame": "how many are there? □",
    "counting-amounts/one more hidden": "these and one more hidden: □",
    "taking-away/left": "{0} − {1} = □",
    "taking-away/equals first": "□ = {0} − {1}",
    "sharing-equally/each": "{0:things} shared between {1:plate}: □ on each plate",
    "sharing-equally/how many": "{0:plate} with {1:things} on each: □ altogether",
    "odd-or-even/odd or even": "{0} is odd or even? □",
    "can-it-be-halved/yes or no": "{0} can be halved: yes or no? □",
    "can-it-be-halved/which can": "{all}: which can be halved? □",
    "can-it-be-halved/which cannot": "{all}: which cannot be halved? □",
    "comparing/sets": "which has more: left, right or the same? □",
    "comparing/more": "which is more: {0} or {1}? □",
    "comparing/less": "which is less: {0} or {1}? □",
    "comparing/how many more": "{0} is □ more than {1}",
    "comparing-signs/sign": "{0} □ {1}",
    "comparing-signs/sum": "{0} + {1} □ {2}",
    "ordering/smallest first": "smallest first: {all} → □",
    "ordering/largest first": "largest first: {all} → □",
    "halves-of-shapes/is it half": "is this shape cut in half: yes or no? □",
    "halves-of-shapes/which one": "which shape is cut in half? □",
    "repeating-patterns/next": "{row}",
    "repeating-patterns/inside": "{row}",
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
    "missing-number/box first": "a number is missing before {0}, {1}, {2}. Which one?",
    "missing-number/box second": "{0}, then a number is missing, then {1}, {2}. Which one?",
    "missing-number/box third": "{0}, {1}, then a number is missing, then {2}. Which one?",
    "hundred-square/covered": "one number is covered. Which number is it?",
    "hundred-square/right": "find {0} on the hundred square. Which number is just to the right?",
    "hundred-square/left": "find {0} on the hundred square. Which number is just to the left?",
    "hundred-square/below": "find {0} on the hundred square. Which number is just below it?",
    "hundred-square/above": "find {0} on the hundred square. Which number is just above it?",
    "number-formation/trace": "trace the number {0} with a finger. Then write it.",
    "number-formation/hear": "write the number {0}.",
    "number-formation/amount": "count how many. Then write the number.",
    "number-formation/after": "which number comes after {0}? Write it.",
    "subitising/dice": "look for a moment, without counting. How many dots?",
    "subitising/fingers": "look for a moment, without counting. How many fingers?",
    "subitising/frame": "look for a moment, without counting. How many squares are filled?",
    "subitising/scattered": "look for a moment, without counting. How many dots?",
    "subitising/things": "look for a moment, without counting. How many things?",
    "subitising/two parts": "look at both rows for a moment. How many altogether?",
    "counting-amounts/rows": "touch each one and count. How many are there?",
    "counting-amounts/scattered": "count the dots. How many are there?",
    "counting-amounts/frame": "how many squares of the ten frame are filled?",
    "counting-amounts/one more hidden": "count these. One more is hidden. How many altogether?",
    "taking-away/left": "{0} take away {1}. How many are left?",
    "taking-away/equals first": "how many is the same as {0} take away {1}?",
    "sharing-equally/each": (
        "share {0:things} between {1:plate}, the same on each. How many on each plate?"
    ),
    "sharing-equally/how many": "{0:plate}, with {1:things} on each. How many altogether?",
    "odd-or-even/odd or even": "is {0} odd or even?",
    "can-it-be-halved/yes or no": "can {0} be shared equally into two groups?",
    "can-it-be-halved/which can": "{all}. Which of these can be shared equally into two groups?",
    "can-it-be-halved/which cannot": (
        "{all}. Which of these cannot be shared equally into two groups?"
    ),
    "comparing/sets": "which box has more dots, or are they the same?",
    "comparing/more": "which is more, {0} or {1}?",
    "comparing/less": "which is less, {0} or {1}?",
    "comparing/how many more": "how many more is {0} than {1}?",
    "comparing-signs/sign": "is {0} less than, more than or equal to {1}?",
    "comparing-signs/sum": "is {0} add {1} less than, more than or equal to {2}?",
    "ordering/smallest first": "put these in order, the smallest first: {all}.",
    "ordering/largest first": "put these in order, the largest first: {all}.",
    "halves-of-shapes/is it half": "is this shape cut in half? Are both pieces the same size?",
    "halves-of-shapes/which one": "which shape is cut in half?",
    "repeating-patterns/next": "say the pattern: {row}. What comes next?",
    "repeating-patterns/inside": "say the pattern: {row}. What is missing?",
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

_PARTS = {
    "second part": ("{0} + □ = {1}", "{0} and how many more make {1}?"),
    "first part": ("□ + {0} = {1}", "how many and {0} make {1}?"),
    "equals first, second part": ("{1} = {0} + □", "{1} is {0} and how many more?"),
    "equals first, first part": ("{1} = □ + {0}", "{1} is how many and {0}?"),
    "taken away": ("{1} − □ = {0}", "{1} take away how many leaves {0}?"),
    "start": ("□ − {0} = {1}", "how many, take away {0}, leaves {1}?"),
    "both parts": ("{0} = □ + □", "{0} is what and what? Can you find another way?"),
}
for _kind in ("number-bonds", "missing-part"):
    WRITTEN |= {f"{_kind}/{form}": words[0] for form, words in _PARTS.items()}
    SPOKEN |= {f"{_kind}/{form}": words[1] for form, words in _PARTS.items()}

WRITTEN |= en_stories.WRITTEN
SPOKEN |= en_stories.SPOKEN

ARTICLES = ("a", "an", "the")

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
