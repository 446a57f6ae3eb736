"""The states of the pages for families."""

from tests.evidence.builders import jpeg
from tests.portal.states import (
    HERE,
    Group,
    Look,
    State,
    choose,
    cut_the_line,
    end_the_session,
    let_nothing_arrive,
    post,
    press,
    send_badly,
    unfold,
    write,
)
from tests.walking import first_number, go_to

NOT_A_PHOTO = b"<html>" + b" " * 9_000
SEND = "[data-send-button]"
WORD_KEPT = ".could-not .notice"
ANSWER = ".step.here input"
TOLD = "[data-told]:not([hidden])"
REFUSED = ".chosen-piece:has(.field-error:not([hidden]))"

TODAY = State("today, a card for each child", "tasks:today", ".child-slip")
WHOLE_DAY = unfold("details:is(.card-whole, .card-right)")
CARD = State("a card with every fold open", "tasks:card", ".card-right[open]", (WHOLE_DAY,))
SENDING = State("the sending page", "evidence:send", "form[data-ready]")
KEYS = State(
    "number keys for a child's finger",
    "evidence:send",
    ".number-keys button",
    (first_number,),
)
CHOSEN = State("a photo is chosen", "evidence:send", ".chosen-piece img", (choose(),))
WEEK = State("the week", "assessment:week", ".days-at-home")
CAME_BACK = State("what came back, on the card", "tasks:card", ".came-back img")
LEAF = State("a leaf", "assessment:leaf", ".spread .large")
WORDS = State("the words, with pictures", "tasks:number-words", "main svg")
REMINDERS = State("reminders", "evidence:reminders", "[data-push]")
DATA = State("privacy and one's data", "privacy:family", ".consent")
SENT = State("what was sent, with the reply", "evidence:submission", "#reply-title")

READING = (
    TODAY,
    State(
        "the languages are open", "tasks:today", "ul button[lang]", (unfold(".language-choice"),)
    ),
    CARD,
    CAME_BACK,
    State("a card of a day without work", "/children/{cal}/card/{date}/", ".empty"),
    WEEK,
    State("the week of one child", "assessment:child-week", ".days-at-home"),
    State("a week without work", "/weeks/2026-W40/", "main section p"),
    State("a cover for each child", "assessment:leaves", ".covers"),
    State("a cover", "assessment:child-leaves", ".turn-on"),
    LEAF,
    State("what came back was opened", "tasks:card", ".came-before"),
    WORDS,
    State("all one sent", "evidence:sent", "main a[href^='/sent/']"),
    SENT,
    State(
        "asked before it is deleted", "evidence:submission", "dialog[open]", (press("[data-ask]"),)
    ),
    State("who has looked", "evidence:looked", "main h1"),
    State("who has looked at anything of a child", "evidence:looked-child", "main h1"),
    State("too late to add to it", "evidence:send-more", "main .notice-warn", status=409),
    DATA,
    State(
        "every fold about one's data is open",
        "privacy:family",
        "details[open] table",
        (unfold("main details"),),
    ),
    State(
        "asked before all is deleted", "privacy:family", "dialog[open]", (press("main [data-ask]"),)
    ),
    State("a copy of one's things", "privacy:copy", "main h1"),
    State("the account", "people:account", "main h1"),
    State("another address", "people:address", "main form"),
    State(
        "another address that is none", "people:address", ".form-errors", (send_badly("main form"),)
    ),
    State("an address is confirmed", "people:confirm", "main h1"),
    REMINDERS,
    State(
        "a reminder at no hour",
        "evidence:reminders",
        ".form-errors",
        (
            lambda page: page.locator("option:checked").evaluate("o => { o.value = 'no'; }"),
            send_badly("main form.slip"),
        ),
    ),
    State(
        "reminders are on",
        "evidence:reminders",
        "form[action$='/off/']",
        (press("[name=by_mail]"), press("main form.slip button")),
    ),
    State("reminders are stopped from a mail", "evidence:reminders-stop", "main h1"),
    State("mails are stopped from a mail", "assessment:stop-mail", "main h1"),
    State("no line", "evidence:no-line", "main h1"),
    State("no such page", "/no-such-page/", "main .slip", status=404),
    State(
        "a form from elsewhere",
        "tasks:today",
        "main .slip:not(.child-slip)",
        (post("/first-steps/away/"),),
    ),
    State("the portal is broken", "/broken/", "main .slip", status=500),
    State(
        "first steps are put away",
        "tasks:today",
        "main:not(:has(.first-steps))",
        (press("form[action$='/first-steps/away/'] button"),),
    ),
)
DOING = (
    State("a card, nothing sent yet", "tasks:card", ".could-not form[action*='could-not']"),
    State("it could not be done", "tasks:card", WORD_KEPT, (press(".could-not form button"),)),
    SENDING,
    State(
        "what can be sent is unfolded",
        "evidence:send",
        ".allowed[open] table",
        (unfold(".send-more"), unfold(".allowed")),
    ),
    KEYS,
    State("nothing is chosen and all the same sent", "evidence:send", TOLD, (press(SEND),)),
    State(
        "an answer that is too long",
        HERE,
        TOLD,
        (
            lambda page: first_number(page).evaluate(
                "input => { input.removeAttribute('maxlength'); input.value = 'x'.repeat(60); }"
            ),
            lambda page: go_to(page, "send"),
            press(SEND),
        ),
    ),
    State("the answer is put right", HERE, ANSWER, (first_number, write(ANSWER, "4"))),
    CHOSEN,
    State("a file that is not taken", HERE, REFUSED, (choose(NOT_A_PHOTO), press(SEND))),
    State(
        "it is on its way",
        HERE,
        "[data-action=pause]:not([hidden])",
        (
            press(f"{REFUSED} [data-do=remove]"),
            let_nothing_arrive,
            choose(jpeg("red")),
            press(SEND),
        ),
    ),
    State(
        "it is stopped for now",
        HERE,
        "[data-action=goon]:not([hidden])",
        (press("[data-action=pause]"),),
    ),
    State(
        "it waits for a line",
        HERE,
        "[data-progress]:not([hidden])",
        (cut_the_line, press("[data-action=goon]")),
    ),
    State("signed out on the way", HERE, "[data-sign-in]:not([hidden])", (end_the_session,)),
    State(
        "it waits on this phone, told on another page",
        "tasks:today",
        "[data-waiting]:not([hidden])",
    ),
    State("just sent, by itself", "evidence:send", ".quiet svg"),
    State("the card once it was sent", "tasks:card", ".notice-done a[href$='/more/']"),
    State("all one sent, and one may take back", "evidence:sent", "main a[href^='/sent/']"),
    State(
        "asked before it is taken back",
        HERE,
        "dialog[open]",
        (press("main a[href^='/sent/']"), press("main [href='#ask-all']")),
    ),
    State("it was taken back", HERE, "main h1", (press("dialog[open] form button"),)),
)
EMPTY = (
    State("nothing sent yet", "evidence:sent", ".empty"),
    State("no leaf yet", "assessment:leaves", ".empty"),
    State("a week of which nothing was sent", "assessment:week", "main section"),
)
SAME = (TODAY, CARD, KEYS, CHOSEN, WEEK, LEAF, SENT, REMINDERS, DATA)
LOOKS = (
    Look("dark", media=(("color_scheme", "dark"),)),
    Look("colours forced", media=(("forced_colors", "active"),)),
    Look("more contrast", media=(("contrast", "more"),)),
    Look("letters twice as large", letters=2),
    Look("the smallest phone", width=320),
    Look("from right to left in Arabic", language="ar"),
    Look("from right to left in Urdu", language="ur", media=(("reduced_motion", "reduce"),)),
)
ON_PAPER = (CARD, WEEK, WORDS)
GROUPS = (
    Group("a family reads", "family", READING),
    Group("a family sends", "second home", DOING),
    Group("a family at the beginning", "other family", EMPTY),
    *(Group(f"a family, {look.name}", "family", SAME, look) for look in LOOKS),
    Group(
        "a family, printed", "family", ON_PAPER, Look("printed", 700, media=(("media", "print"),))
    ),
)
