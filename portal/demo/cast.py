"""Whom a visitor of the demo can come in as, and the six steps once round the loop."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Person:
    """One invented account: *key* in its address, *email* in the database."""

    key: str
    email: str
    title: str
    does: str


@dataclass(frozen=True)
class Step:
    """One step round the loop: who does it, on which page, and what there is to look at there.

    page: the name of an address; needs: what it takes of a class, a child and a day.
    """

    key: str
    who: str
    page: str
    needs: tuple[str, ...]
    title: str
    press: str
    look_at: str


CAST = (
    Person(
        "teacher", "teacher@demo.invalid", "Ms Calder, teacher of Robins", "has work to look at"
    ),
    Person("assistant", "assistant@demo.invalid", "Mr Oyelade, assistant", "looks and tags"),
    Person("family", "family@demo.invalid", "An adult at home with Mina", "does it and sends"),
    Person(
        "siblings", "siblings@demo.invalid", "An adult with two children", "has a card for each"
    ),
    Person("lead", "lead@demo.invalid", "Dr Brandt, lead of the year", "sees every class"),
    Person("office", "office@demo.invalid", "The school office", "keeps the roster"),
)

STEPS = (
    Step(
        *("plan", "teacher", "tasks:plan-week", ("class_pk",), "Plan the week", "Open the week"),
        "Each day has a count, quick recall, a main task and something to try at home. "
        "Next week is drafted: one step on each day.",
    ),
    Step(
        *(
            "set",
            "teacher",
            "tasks:plan-day",
            ("class_pk", "date"),
            "Set a day",
            "Open the next day",
        ),
        "Have a part drawn again or put in your own words, see it as a family will, then set it.",
    ),
    Step(
        *("home", "family", "tasks:today", (), "Do it at home", "Do today's card"),
        "What to fetch, what to say, what right looks like; a card that reads itself aloud. "
        "Ten minutes for an adult and a child.",
    ),
    Step(
        *("send", "family", "evidence:send", ("child_pk", "date"), "Send", "Send Mina's work"),
        "A photo, a clip, a voice note or answers, from a phone. Send a photo of your own: "
        "it stays on this machine, and is cleaned of where and when it was taken.",
    ),
    Step(
        *(
            "look",
            "teacher",
            "assessment:queue",
            ("class_pk",),
            "Look, answer, tag",
            "Look at what came in",
        ),
        "The right answers and the likely mistake stand beside each piece. "
        "A usual one takes three keys: pick a reply, keep the tags, save.",
    ),
    Step(
        *(
            "week",
            "teacher",
            "assessment:class-this-week",
            ("class_pk",),
            "See the week",
            "See the class's week",
        ),
        "Who showed what and how, which mistake keeps coming, who has not been heard from. "
        "On Friday it is summed up and mailed.",
    ),
)

# What waits for some of the cast besides, under their names.
ERRANDS = (
    Step(
        *("replies", "family", "assessment:leaves", (), "Replies", "Read the teacher’s replies"),
        "",
    ),
    Step(
        *(
            "second",
            "lead",
            "assessment:second-looks",
            (),
            "Second looks",
            "Look again at six pieces",
        ),
        "",
    ),
    Step(
        *("invitations", "office", "people:invitations", (), "Invitations", "See who is invited"),
        "",
    ),
)
