"""A second way to the right answer: from the written sentence and the picture alone."""

import re
from collections.abc import Callable
from itertools import pairwise

from tasks.numberwork import Prompt, number_word
from tasks.numberwork.pictures import (
    CompareSets,
    Counters,
    DiceDots,
    Fingers,
    FiveAndDots,
    FiveFrame,
    House,
    HundredSquare,
    LooseRows,
    PatternRow,
    Plates,
    ScatteredDots,
    ShapeCut,
    ShapeCutChoice,
    Tally,
    TenFrame,
    Things,
    TwoLots,
    TwoRows,
)

LARGEST = 200
STEPS = {"ones": 1, "twos": 2, "fives": 5, "tens": 10}
WORDS = re.findall(
    r"\w+",
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen "
    "fifteen sixteen seventeen eighteen nineteen twenty",
)


def solve(prompt: Prompt) -> set[object]:
    """Return every right answer to a prompt."""
    sentence = prompt.sentence
    for solver in (_told, _repeats, _sentence, _count, _sides, _words, _picture, _pattern, _cards):
        found = solver(prompt, sentence)
        if found:
            return found
    return _story(sentence)


def _told(prompt: Prompt, sentence: str) -> set[object]:
    """Work out how a story that the child tells ends, or which sign a story needs."""
    if prompt.kind != "number-stories":
        return set()
    if sentence.endswith("Which sign: + or −? □"):
        return {"+" if "You put" in sentence else "−"}
    if sentence.endswith("= " + sentence.rpartition(" ")[2]):
        return _sentence(prompt, sentence.removeprefix("tell a story for "))
    picture = prompt.picture
    if isinstance(picture, TwoLots):
        return {picture.first + picture.second}
    if isinstance(picture, Counters):
        return {picture.number - picture.crossed}
    return {_value(sentence.removeprefix("tell a story for ").partition(":")[0])}


def _repeats(prompt: Prompt, sentence: str) -> set[object]:
    """Mend, count or copy a pattern by trying everything that could repeat."""
    picture = prompt.picture
    if prompt.kind != "making-patterns" or not isinstance(picture, PatternRow):
        return set()
    shown = picture.items
    if sentence.startswith("how many things"):
        sizes = range(2, len(shown))
        return {next(size for size in sizes if shown == (shown[:size] * 4)[: len(shown)])}
    if sentence.startswith("which place"):
        for size in range(2, len(shown) // 2 + 1):
            fits = {
                place + 1
                for place in range(len(shown))
                for thing in set(shown)
                if (mended := (*shown[:place], thing, *shown[place + 1 :]))
                == (mended[:size] * 4)[: len(shown)]
            }
            if fits:
                return fits
    laid = sentence.partition(": ")[2].split(", ")[:-1]
    model = shown * 2
    pairs = dict(zip(model, laid, strict=False))
    nothing_yet = [each for each in prompt.choices if each not in (*laid, *shown)]
    return {pairs[model[len(laid)]]} if model[len(laid)] in pairs else set(nothing_yet)


def _value(side: str) -> int | None:
    """Work out one side of a number sentence; None where division leaves something over."""
    side = re.sub(r"(half of|double) (\d+)", r"\2 \1", side)
    left, *steps = re.findall(r"[+−÷]? ?\d+|half of|double", side)
    total = int(left)
    for step in steps:
        if step == "half of" or step == "÷ 2":
            if total % 2:
                return None
            total //= 2
        elif step == "double":
            total *= 2
        elif step[0] == "+":
            total += int(step[1:])
        else:
            total -= int(step[1:])
    return total


def _sentence(prompt: Prompt, sentence: str) -> set[object]:
    """Try every number in the box of a sentence with = (or "double 4 = □")."""
    if not re.fullmatch(r"[\d□ +−÷=]+|(half of|double) [\d□]+ = [\d□]+|□ = half of \d+", sentence):
        return set()
    if sentence.count("=") != 1:
        return set()
    left, right = sentence.split(" = ")
    if sentence.count("□") == 2:
        return {(one, int(left) - one) for one in range(int(left) + 1)}
    fits = set()
    for number in range(3 * max(map(int, re.findall(r"\d+", sentence))) + 2):
        sides = [_value(side.replace("□", str(number))) for side in (left, right)]
        if sides[0] == sides[1] is not None:
            fits.add(number)
    return fits


def _count(prompt: Prompt, sentence: str) -> set[object]:
    """Go on with a count of equal steps, or fill its gap."""
    after = re.fullmatch(r"count (on|back) in (\w+): (\d+), □", sentence)
    if after:
        step = STEPS[after[2]] * (1 if after[1] == "on" else -1)
        return {int(after[3]) + step}
    if not re.fullmatch(r"[\d□, ]+", sentence) or "," not in sentence:
        return set()
    items = sentence.split(", ")
    fits = set()
    for number in range(LARGEST + 1):
        run = [number if item == "□" else int(item) for item in items]
        if len({b - a for a, b in pairwise(run)}) == 1:
            fits.add(number)
    return fits


def _sides(prompt: Prompt, sentence: str) -> set[object]:
    """Find the sign between two sides."""
    sides = re.fullmatch(r"([\d+ ]+) □ (\d+)", sentence)
    if not sides:
        return set()
    one, other = _value(sides[1]), _value(sides[2])
    return {"<" if one < other else ">" if one > other else "="}


def _words(prompt: Prompt, sentence: str) -> set[object]:
    """Read the sentences that are put in words."""
    rules: list[tuple[str, Callable[..., object]]] = [
        (r"one more than (\d+) is □", lambda n: n + 1),
        (r"one less than (\d+) is □", lambda n: n - 1),
        (r"one more than □ is (\d+)", lambda n: n - 1),
        (r"one less than □ is (\d+)", lambda n: n + 1),
        (r"the number just (?:right of) (\d+) is □", lambda n: n + 1),
        (r"the number just (?:left of) (\d+) is □", lambda n: n - 1),
        (r"the number just below (\d+) is □", lambda n: n + 10),
        (r"the number just above (\d+) is □", lambda n: n - 10),
        (r"trace (\d+), then write it: □", lambda n: n),
        (r"count out (\d+): □ on the plate", lambda n: n),
        (r"(\d+) fingers? and (\d+) fingers?: □", lambda one, other: one + other),
        (r"(\d+) on one hand, the same on the other: □", lambda n: 2 * n),
        (r"the same on both hands, (\d+) fingers altogether: □ on one hand", lambda n: n // 2),
        (r"(\d+) in a row, now [a-z ]+: more, fewer or the same\? □", lambda n: "the same"),
        (r"(\d+) in a row, now spread out: □", lambda n: n),
        (r"(\d+) spread out and one more put in: □", lambda n: n + 1),
        (r"(\d+) spread out and one taken out: □", lambda n: n - 1),
        (r"(\d+) spoons? and (\d+) cups?: how many more cups .*□", lambda n, k: n - k),
        (r"(\d+): your child says □", lambda n: n),
        (r"what comes after (\d+)\? □", lambda n: n + 1),
        (r"jump (\d+) times and stop: □ jumps", lambda n: n),
        (r"count out one more than (\d+): □ on the plate", lambda n: n + 1),
        (r"(\d+) \w+ shared between (\d+) plates?: □ on each plate", lambda n, k: n / k),
        (r"(\d+) plates? with (\d+) \w+ on each: □ altogether", lambda k, n: n * k),
        (r"(\d+) is odd or even\? □", lambda n: ("even", "odd")[n % 2]),
        (
            r"(\d+) into two equal groups with none left over: yes or no\? □",
            lambda n: ("yes", "no")[n % 2],
        ),
        (r"which is more: (\d+) or (\d+)\? □", max),
        (r"which is less: (\d+) or (\d+)\? □", min),
        (r"(\d+) is □ more than (\d+)", lambda more, less: more - less),
    ]
    for pattern, rule in rules:
        if read := re.fullmatch(pattern, sentence):
            return {rule(*map(int, read.groups()))}
    if read := re.fullmatch(r"write the number (after )?(\w+): □", sentence):
        return {WORDS.index(read[2]) + bool(read[1])}
    if read := re.fullmatch(r"\d+ or \d+: which is ([\w -]+)\? □", sentence):
        return {next(n for n in range(LARGEST) if number_word(n) == read[1])}
    if sentence.endswith(" times. Your child counts: □"):
        return {sum(map(WORDS.index, re.findall(r"(\w+) times", sentence)))}
    return set()


def _cards(prompt: Prompt, sentence: str) -> set[object]:
    """Order cards, or find the one that can or cannot be halved."""
    cards = [int(number) for number in re.findall(r"\d+", sentence)]
    if sentence.startswith(("smallest first", "largest first")):
        return {tuple(sorted(cards, reverse=sentence.startswith("largest")))}
    if "two equal groups" in sentence or "leaves one over" in sentence:
        return {card for card in cards if (card % 2 == 1) == ("leaves one" in sentence)}
    return set()


_PLACE = r"\b(first|second|third|fourth|fifth)\b"


def _picture(prompt: Prompt, sentence: str) -> set[object]:
    """Take the answer from what the picture shows."""
    picture = prompt.picture
    if isinstance(picture, LooseRows):
        spare = picture.upper - picture.lower
        if sentence.startswith("more spoons"):
            return {"spoons" if spare > 0 else "cups" if spare < 0 else "the same"}
        return {("yes", "no")[spare > 0]} if "yes or no" in sentence else {spare}
    if isinstance(picture, PatternRow) and (read := re.search(_PLACE, sentence)):
        row = list(picture.items)[:: -1 if "from the right" in sentence else 1]
        place = ("first", "second", "third", "fourth", "fifth").index(read[1])
        return {row[place + ("just after" in sentence) - ("just before" in sentence)]}
    if sentence.startswith("about five") and isinstance(picture, ScatteredDots):
        return {
            min((5, "about five"), (10, "about ten"), key=lambda c: abs(c[0] - picture.number))[1]
        }
    if sentence.startswith("about how many") and isinstance(picture, ScatteredDots):
        seen, off = picture.number, max(1, picture.number // 4)
        return {each for each in range(prompt.within + 1) if abs(each - seen) <= off}
    amount = re.match(
        r"the (tally|dots) shows?|look|(?:now count: )?how many (?:are|windows)|write how many"
        r"|these and",
        sentence,
    )
    if amount and isinstance(picture, TwoRows):
        return {picture.upper + picture.lower}
    if amount and isinstance(picture, Plates):
        return {sum(picture.groups)}
    if amount and isinstance(picture, House):
        return {picture.windows}
    if amount and isinstance(picture, FiveFrame | TenFrame):
        return {picture.filled}
    if amount and isinstance(picture, DiceDots | FiveAndDots | ScatteredDots | Tally | Fingers):
        return {picture.number}
    if amount and isinstance(picture, Things):
        return {picture.number + ("hidden" in sentence)}
    if sentence.startswith("the covered") and isinstance(picture, HundredSquare):
        return set(picture.marked)
    if isinstance(picture, ShapeCut):
        return {"yes" if picture.is_half else "no"}
    if isinstance(picture, ShapeCutChoice):
        return set(picture.halves)
    if isinstance(picture, CompareSets):
        sides = {0: "the same", 1: "left", -1: "right"}
        return {sides[(picture.left > picture.right) - (picture.left < picture.right)]}
    return set()


def _pattern(prompt: Prompt, sentence: str) -> set[object]:
    """Find the thing with which the row repeats the shortest unit."""
    items = sentence.split(", ")
    if "□" not in items or len(items) < 5 or "?" in sentence:
        return set()
    for size in range(2, len(items)):
        for thing in sorted(set(items) - {"□"}):
            row = [thing if item == "□" else item for item in items]
            if all(one == other for one, other in zip(row, row[size:], strict=False)):
                return {thing}
    return set()


def _story(sentence: str) -> set[object]:
    """Solve a story by the equation of its situation (Table 1), from the numerals in the text."""
    numbers = [int(number) for number in re.findall(r"\d+", sentence)]
    if "two boxes" in sentence:
        return {(one, numbers[0] - one) for one in range(numbers[0] + 1)}
    one, other = numbers
    signs = [
        (r"You put \d+ more there\. How", one + other),
        (r"You put some more", other - one),
        (r"some \w+ .*You put", other - one),
        (r"There (is|are) \d.*You take \d+ away", one - other),
        (r"You take some away", one - other),
        (r"There are some .*You take", one + other),
        (r"big .* and .* small", one + other),
        (r"the rest are small", one - other),
        (r"How many (more|fewer) ", other - one),
        (r"I have \d+ more .*You have \d", one + other),
        (r"You have \d+ fewer .*You have \d", one + other),
        (r"I have \d+ more .*I have \d", other - one),
        (r"You have \d+ fewer .*I have \d", other - one),
    ]
    return {next(answer for pattern, answer in signs if re.search(pattern, sentence))}
