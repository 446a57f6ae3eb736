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
    "number-of-the-day-shown/show": "{0}",
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
    "number-names/which": "{1} or {2}: which is {0:word}? □",
    "number-names/read": "{0}: your child says □",
    "number-names/after": "what comes after {0}? □",
    "number-names/gap": "{0}, {1}, □, {2}",
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
    "count-out/count out": "count out {0}: □ on the plate",
    "count-out/check": "how many are on the plate? □",
    "count-out/one more than": "count out one more than {0}: □ on the plate",
    "counting-sounds/claps": "clap {0:word} times. Your child counts: □",
    "counting-sounds/windows": "how many windows? □",
    "counting-sounds/in a tin": ("drop a spoon in a tin {0:word} times. Your child counts: □"),
    "counting-sounds/jumps": "jump {0} times and stop: □ jumps",
    "counting-sounds/claps and stamps": (
        "clap {0:word} times, then stamp {1:word} times. Your child counts: □"
    ),
    "still-the-same/spread out": ("{0} in a row, now spread out: more, fewer or the same? □"),
    "still-the-same/pushed together": (
        "{0} in a row, now pushed together: more, fewer or the same? □"
    ),
    "still-the-same/how many now": "{0} in a row, now spread out: □",
    "still-the-same/one put in": "{0} spread out and one more put in: □",
    "still-the-same/one taken out": "{0} spread out and one taken out: □",
    "estimate-and-count/five or ten": "about five or about ten? □",
    "estimate-and-count/guess": "about how many are there? □",
    "estimate-and-count/count": "now count: how many are there? □",
    "estimate-and-count/rows": "now count: how many are there? □",
    "ordinals/from the left": "which is {place} from the left? □",
    "ordinals/from the right": "which is {place} from the right? □",
    "ordinals/just before": "from the left, which is just before the {place}? □",
    "ordinals/just after": "from the left, which is just after the {place}? □",
    "finger-doubles/both hands": "{0:finger} and {0:finger}: □",
    "finger-doubles/the same again": "{0} on one hand, the same on the other: □",
    "finger-doubles/one hand": "the same on both hands, {0} fingers altogether: □ on one hand",
    "taking-away/left": "{0} − {1} = □",
    "taking-away/equals first": "□ = {0} − {1}",
    "sharing-equally/each": "{0:things} shared between {1:plate}: □ on each plate",
    "sharing-equally/how many": "{0:plate} with {1:things} on each: □ altogether",
    "odd-or-even/odd or even": "{0} is odd or even? □",
    "can-it-be-halved/yes or no": "{0} into two equal groups with none left over: yes or no? □",
    "can-it-be-halved/which can": "{all}: which makes two equal groups with none left over? □",
    "can-it-be-halved/which cannot": "{all}: which leaves one over? □",
    "matching/which has more": "more spoons, more cups or the same? □",
    "matching/enough": "is there a cup for each spoon: yes or no? □",
    "matching/without a partner": "how many spoons have no cup? □",
    "matching/needed": "{0:spoon} and {1:cup}: how many more cups are needed? □",
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
    "making-patterns/mend": "which place is wrong, counted from the left? □",
    "making-patterns/copy": "the same pattern with other things: {row}",
    "making-patterns/part": "how many things are in the part that repeats? □",
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
    "number-of-the-day-shown/show": "show {0} in as many ways as you can.",
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
    "number-names/which": "which card says {0}?",
    "number-names/read": "look at the card. Say the number.",
    "number-names/after": "you count and say {0}. What comes next?",
    "number-names/gap": "{0}, {1}, then a number is missing, then {2}. Which one?",
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
    "count-out/count out": "count out {0} and put them on the plate. How many are on the plate?",
    "count-out/check": "these were counted out. How many are on the plate?",
    "count-out/one more than": (
        "count out one more than {0} and put them on the plate. How many are on the plate?"
    ),
    "counting-sounds/claps": "shut your eyes and listen. How many claps do you hear?",
    "counting-sounds/windows": "look and count, but do not touch. How many windows are there?",
    "counting-sounds/in a tin": "look away and listen to the tin. How many sounds do you hear?",
    "counting-sounds/jumps": "jump {0} times, and stop. How many jumps did you do?",
    "counting-sounds/claps and stamps": (
        "listen to the claps and then to the stamps. How many sounds altogether?"
    ),
    "still-the-same/spread out": (
        "there are {0} in a row. Now they are spread out. Are there more, fewer or the same?"
    ),
    "still-the-same/pushed together": (
        "there are {0} in a row. Now they are pushed together. Are there more, fewer or the same?"
    ),
    "still-the-same/how many now": (
        "there are {0} in a row. Now they are spread out. How many are there now?"
    ),
    "still-the-same/one put in": (
        "there are {0}. They are spread out and one more is put in. How many are there now?"
    ),
    "still-the-same/one taken out": (
        "there are {0}. They are spread out and one is taken out. How many are there now?"
    ),
    "estimate-and-count/five or ten": (
        "look for a moment, and do not count. Are there about five or about ten?"
    ),
    "estimate-and-count/guess": "look for a moment, and do not count. About how many are there?",
    "estimate-and-count/count": "guess first. Then count the dots. How many are there?",
    "estimate-and-count/rows": "guess first. Then count the spoons. How many are there?",
    "ordinals/from the left": "look at the row. Which is {place} from the left?",
    "ordinals/from the right": "look at the row. Which is {place} from the right?",
    "ordinals/just before": "begin at the left. Which thing is just before the {place}?",
    "ordinals/just after": "begin at the left. Which thing is just after the {place}?",
    "finger-doubles/both hands": (
        "put up {0} on one hand and {0} on the other. How many fingers are up?"
    ),
    "finger-doubles/the same again": (
        "show {0} on one hand and the same on the other. How many fingers are up?"
    ),
    "finger-doubles/one hand": (
        "both hands show the same. Altogether {0} fingers are up. How many are up on one hand?"
    ),
    "taking-away/left": "{0} take away {1}. How many are left?",
    "taking-away/equals first": "how many is the same as {0} take away {1}?",
    "sharing-equally/each": (
        "share {0:things} between {1:plate}, the same on each. How many on each plate?"
    ),
    "sharing-equally/how many": "{0:plate}, with {1:things} on each. How many altogether?",
    "odd-or-even/odd or even": "is {0} odd or even?",
    "can-it-be-halved/yes or no": "can you share {0} into two equal groups with none left over?",
    "can-it-be-halved/which can": (
        "{all}. Which of these can you share into two equal groups with none left over?"
    ),
    "can-it-be-halved/which cannot": (
        "{all}. Which of these leaves one over when you share it into two equal groups?"
    ),
    "matching/which has more": (
        "join each spoon to one cup. Are there more spoons, more cups or the same?"
    ),
    "matching/enough": "join each spoon to one cup. Is there a cup for each spoon?",
    "matching/without a partner": "join each spoon to one cup. How many spoons have no cup?",
    "matching/needed": (
        "you have {0:spoon} and {1:cup}. Each spoon needs a cup. How many more cups are needed?"
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
    "making-patterns/mend": (
        "one thing in this pattern is wrong. Count from the left. Which place is it?"
    ),
    "making-patterns/copy": "say the pattern. Now make one like it: {row}. What comes next?",
    "making-patterns/part": (
        "say the pattern. How many things are in the part that comes again and again?"
    ),
}

for _step in _STEPS:
    WRITTEN |= {
        f"counting-on-in-{_step}/run": "{all}, □",
        f"counting-on-in-{_step}/after": f"count on in {_step}: {{0}}, □",
        f"counting-back-in-{_step}/run": "{all}, □",
        f"counting-back-in-{_step}/after": f"count back in {_step}: {{0}}, □",
        f"counting-aloud-in-{_step}/on": f"count on in {_step}: {{0}} … {{1}}",
        f"counting-aloud-in-{_step}/back": f"count back in {_step}: {{0}} … {{1}}",
    }
    SPOKEN |= {
        f"counting-on-in-{_step}/run": f"count on in {_step}. {{all}}. What comes next?",
        f"counting-on-in-{_step}/after": f"you are counting on in {_step}. What comes after {{0}}?",
        f"counting-back-in-{_step}/run": f"count back in {_step}. {{all}}. What comes next?",
        f"counting-back-in-{_step}/after": (
            f"you are counting back in {_step}. What comes after {{0}}?"
        ),
        f"counting-aloud-in-{_step}/on": f"count on in {_step} together, from {{0}} to {{1}}.",
        f"counting-aloud-in-{_step}/back": f"count back in {_step} together, from {{0}} to {{1}}.",
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

WRITTEN |= {
    "number-stories/joined": "tell a story for the picture: □ in the end",
    "number-stories/taken away": "tell a story for the picture: □ in the end",
    "number-stories/plus": "tell a story for {0} + {1}: □ in the end",
    "number-stories/minus": "tell a story for {0} − {1}: □ in the end",
    "number-stories/missing": "tell a story for {0} + □ = {1}",
}
SPOKEN |= {
    "number-stories/joined": (
        "look at the picture and tell a story. How many are there in the end?"
    ),
    "number-stories/taken away": (
        "look at the picture and tell a story. How many are there in the end?"
    ),
    "number-stories/plus": "tell a story for {0} add {1}. How many are there in the end?",
    "number-stories/minus": "tell a story for {0} take away {1}. How many are there in the end?",
    "number-stories/missing": "tell a story: first {0}, then {1}. How many came?",
}
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
    "plus": "+",
    "add": "+",
    "-": "−",
    "minus": "−",
    "take away": "−",
    "equals": "=",
    "equal": "=",
    "equal to": "=",
    "is equal to": "=",
    "the same as": "=",
    "is the same as": "=",
    "same": "the same",
    "equal amounts": "the same",
}
