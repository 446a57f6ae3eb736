"""The story of the invented class: what each week is about, who is who, and what is said."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Focus:
    """What a week is about: a kind within a range."""

    kind: str
    within: int


# A term of weeks, the oldest first. The last is the week it is, whenever the demo is started.
TERM = (
    Focus("counting-amounts", 10),
    Focus("subitising", 5),
    Focus("comparing", 10),
    Focus("one-more", 10),
    Focus("one-less", 10),
    Focus("number-bonds", 10),
    Focus("adding", 10),
    Focus("counting-on-in-twos", 20),
    Focus("doubling", 20),
    Focus("halving", 20),
    Focus("halving", 20),
    Focus("halving-number-sentence", 20),
)
NEXT = Focus("sharing-equally", 10)
OTHER_CLASS = (TERM[5], TERM[6])

KEEN = ("Mina A", "Tobi B", "Wren H", "Tamsin B", "Lowri H")
ON_PAPER = ("Bram H", "Zia O")
# Two have gone silent: one for weeks, one (and how many school days ago) a while ago.
NOT_HEARD_FROM, STAYS_SILENT = "Cleo V", 15
STOPPED = {"Yusuf U": 6}
# Whom visitors come in as: their cards of today are still to be done, but for one of two siblings'.
NOT_YET_TODAY, EARLY = ("Mina A", "Tobi B"), ("Tamsin B",)
TWO_HOMES = "Esme K"
# Asked what may be done with pictures: who has not answered yet, and who says no to all of it.
NEVER_ASKED, SAYS_NO = ("Mina A", "Cleo V", "Kofi N"), "Idris W"
# For the office: a slip that waits for somebody new, an invitation and an account without a mail.
MOVED_HERE, MAIL_CAME_BACK = "Bram H", "Hugo P"
SECOND_ADULT = ("Anya T", "mistyped@demo.invalid")
SUPPORTED = ("Oren D", "Pia F", "Kofi N", "Sol Z")
SIBLINGS = (("Tobi B", "Tamsin B"), ("Wren H", "Lowri H"), ("Hugo P", "Lina P"))

# Who makes which mistake in halving, for how many of its three weeks: it goes, or it stays.
HALVING = ("halving", "halving-number-sentence")
MISTAKEN = {
    "Mina A": ("doubled", 1),
    "Thea M": ("doubled", 1),
    "Rafi L": ("doubled", 2),
    "Omar Q": ("took two away", 3),
    "Jory E": ("said the number itself", 1),
}

PICTURES: dict[str, tuple[str, ...]] = {
    "counting-amounts": ("beans-8", "blocks-12"),
    "subitising": ("buttons-3-3", "pasta-5-3"),
    "comparing": ("pasta-5-3", "buttons-6-4"),
    "one-more": ("pasta-7", "beans-8"),
    "one-less": ("pasta-7", "blocks-12"),
    "number-bonds": ("buttons-6-4", "pasta-5-3"),
    "adding": ("page-adding", "buttons-6-4"),
    "counting-on-in-twos": ("page-twos", "blocks-12"),
    "doubling": ("page-doubles", "buttons-3-3"),
    "halving": ("pasta-4-4", "beans-6-6", "shapes-halves", "shapes-and-not", "clip-8"),
    "halving-number-sentence": ("page-halves", "pasta-4-4", "clip-6"),
}
WRONG_PICTURES = {"doubled": "page-doubled", "took two away": "pasta-5-3"}
LIBRARY: tuple[dict[str, object], ...] = (
    {"name": "pasta-4-4", "draw": "plates", "groups": (4, 4), "loose": 0, "things": "pasta"},
    {"name": "page-halves", "draw": "page", "lines": ["8 ÷ 2 = 4", "6 ÷ 2 = 3"], "rings": (4, 4)},
    {"name": "clip-6", "draw": "clip", "total": 6, "things": "beans"},
    {"name": "clip-8", "draw": "clip", "total": 8, "things": "buttons"},
    {"name": "beans-6-6", "draw": "plates", "groups": (6, 6), "loose": 0, "things": "beans"},
    {"name": "pasta-5-3", "draw": "plates", "groups": (5, 3), "loose": 1, "things": "pasta"},
    {
        "name": "shapes-halves",
        "draw": "shapes",
        "cuts": (("circle", "middle"), ("square", "corner to corner"), ("oblong", "middle")),
    },
    {
        "name": "shapes-and-not",
        "draw": "shapes",
        "cuts": (("square", "middle"), ("circle", "off the middle"), ("oblong", "off the middle")),
    },
    {"name": "page-doubled", "draw": "page", "lines": ["8  16"], "rings": (8, 8)},
    {"name": "page-doubles", "draw": "page", "lines": ["4 + 4 = 8"], "rings": (4, 4)},
    {"name": "page-twos", "draw": "page", "lines": ["2 4 6 8 10"], "rings": ()},
    {"name": "page-adding", "draw": "page", "lines": ["3 + 4 = 7", "5 + 2 = 7"], "rings": (3, 4)},
    {"name": "buttons-6-4", "draw": "plates", "groups": (6, 4), "loose": 0, "things": "buttons"},
    {"name": "buttons-3-3", "draw": "plates", "groups": (3, 3), "loose": 0, "things": "buttons"},
    {"name": "beans-8", "draw": "row", "count": 8, "things": "beans"},
    {"name": "blocks-12", "draw": "row", "count": 12, "things": "blocks"},
    {"name": "pasta-7", "draw": "row", "count": 7, "things": "pasta"},
)
TABLES = ("oak", "cloth", "pine", "dark")  # one after the other, so that no two photos are alike

NOTES = (
    *("", "", "", "", ""),
    "We used pasta.",
    "Lots of giggling, but done.",
    "The last one was hard today.",
    "Done at breakfast, before the bus.",
    "Grandma played along.",
    "We ran out of buttons and took raisins.",
)
SAID_ALOUD = (
    "Said all of them aloud.",
    "Done with spoons, nothing written.",
    "Counted in the bath.",
)
REPLIES: dict[str, tuple[tuple[str, str], ...]] = {
    "doubling": (
        ("The same again on the other side, {name}: I can see it.", "Find a double on a dice."),
        ("You made both sides match, {name}. Say it: four and four is …", "Double 5 next."),
    ),
    "halving": (
        ("Well shared, {name}. How did you know both plates had the same?", "Try half of 12."),
        ("One for you, one for me: that always works, {name}.", "Fold a tea towel in half."),
        ("I can see two equal parts, {name}.", "Look for halves at breakfast."),
    ),
    "halving-number-sentence": (
        ("You wrote it so that I can read it, {name}.", "Tell it as a story: two plates …"),
        ("The ÷ 2 stands for two equal parts, and you show them, {name}.", "Try 14 ÷ 2."),
    ),
    "": (
        ("{name}, you counted each one just once. That is why it came out.", "Count the stairs."),
        ("You checked it again, {name}. Good idea.", "Do one more with buttons."),
    ),
}
# Ready made, so that a family reads them in its own language: reply and next step, by their places.
READY = ((0, 2), (1, 4), (3, 3), (4, 1))
MISTAKE_REPLIES = {
    "doubled": (
        "You made double, {name}: two lots. For half, start with 8 and share them on two plates.",
        "One for you, one for me, until none are left.",
    ),
    "took two away": (
        "You took two away, {name}. Half is two equal parts: put one on each plate, in turn.",
        "Share 8, then 10. Are both plates the same?",
    ),
    "said the number itself": (
        "That is how many there are altogether, {name}. Now share them between two people.",
        "Halve 6 with buttons.",
    ),
}
CALLS = (  # school days ago
    (8, "Rang, no answer. Will ask at the gate."),
    (3, "Spoke at the gate: moving house this month. Offered the cards on paper."),
)
MARK = "Takes two away each time, three weeks running. What would you try next?"
WORDS_OF_WEEKS = {
    0: "Halving has a sign now: ÷ 2. On Monday we share between more than two.",
    1: "Folded towels, cut toast: you found halves everywhere. Next week we write it down.",
    2: "Some of us doubled at first. Sharing one by one helped. Keep the two plates out.",
}
