"""The states of the pages for staff."""

from tests.portal.states import Group, Look, State, key, press, send_badly, unfold, write

EMPTY_DAY = "/classes/{class_pk}/plan/2027-03-09/"
PLAN = State("a day that is set", "tasks:plan-day", ".part")
LOOKED = State("a piece of work", "assessment:look", "form[data-look]")
LIST = State("the list of work", "assessment:queue", "main")
GRID = State("the class by goals", "assessment:goals", "main table")
SEQUENCE = State("a sequence", "tasks:sequence", "main h1")

TEACHER = (
    State("the week of a class", "tasks:plan-week", "main h1"),
    State("the keys of the page", "tasks:plan-day", "dialog#keys[open]", (key("?"),)),
    State("a day without a plan", EMPTY_DAY, "main form"),
    PLAN,
    State("a part is added", "tasks:part-add", "main form"),
    State(
        "a part that cannot be drawn",
        "tasks:part-add",
        ".form-errors",
        (
            lambda page: page.locator("main form [name=count]").evaluate("f => { f.value = 0; }"),
            send_badly("main form"),
        ),
    ),
    State("a part in other words", "tasks:part-reword", "main textarea"),
    State("the numbers of a part are typed", "tasks:part-numbers", "main [name=numbers]"),
    State("a question of one's own", "tasks:part-own", "[name=sentence]"),
    State("a day as a family sees it", "tasks:plan-preview", ".preview-walk .step"),
    State("the day before the class", "tasks:in-class", ".scene:not([hidden])"),
    State("a sequence is begun", "tasks:sequence-new", "main form"),
    State(
        "a sequence without a day",
        "tasks:sequence-new",
        ".form-errors",
        (write("[name=first]", ""), send_badly("main form")),
    ),
    SEQUENCE,
    State("groups", "tasks:groups", "main > form"),
    State("a group without a name", "tasks:groups", ".form-errors", (send_badly("main > form"),)),
    State("asked before a group goes", "tasks:groups", "dialog[open]", (press("main [data-ask]"),)),
    State("the kinds of work", "tasks:kinds", "main h1"),
    State("one kind of work", "tasks:kind", "#goals-title"),
    State("printing", "tasks:print", "main form"),
    LIST,
    State(
        "a list in which nothing fits",
        "/classes/{class_pk}/look/?marked=on&kind=subitising",
        "main",
    ),
    LOOKED,
    State(
        "all goals are unfolded",
        "assessment:look",
        "details[open] .goal-row, details[open]",
        (unfold("details.more-goals"),),
    ),
    State("the keys of looking", "assessment:look", "dialog#keys[open]", (key("?"),)),
    State("shown to the lead", "assessment:marks", "main h1"),
    State("nobody heard from", "assessment:not-heard-from", "main h1"),
    State("phrases", "assessment:phrases", "main > form"),
    State(
        "a phrase without words",
        "assessment:phrases",
        ".form-errors",
        (send_badly("main form:has([name=text], textarea)"),),
    ),
    GRID,
    State("one goal of a class", "assessment:goal", "main h1"),
    State("gaps", "assessment:gaps", "main h1"),
    State("the next groups", "assessment:next-groups", "main h1"),
    State("a child", "assessment:child", "main h1"),
    State("judgements of a child", "assessment:child-judgements", "main form"),
    State("judgements", "assessment:judgements", "main h1"),
    State("the week summed up", "assessment:class-week", "main h1"),
    State("words for a family", "assessment:family-words", "main form"),
    State("a second look", "assessment:second-look", "main form"),
    State("agreement to pictures", "privacy:class-consents", "main h1"),
    State("a worry", "privacy:worry", "main h1"),
    State("no such page for staff", "/no-such-page/", "main .slip", status=404),
)
LEAD = (
    State("the staff", "people:staff", "main h1"),
    State("somebody is added", "people:staff-add", "main form"),
    State(
        "somebody without an address",
        "people:staff-add",
        ".form-errors",
        (send_badly("main form"),),
    ),
    State("a post", "people:staff-post", "main form"),
    State("the classes", "people:classes", "main h1"),
    State("the homes of a class", "people:roster", "main table"),
    State("the homes of a child", "people:homes", "main h1"),
    State("invitations", "people:invitations", "main h1"),
    State("a roster file", "people:roster-import", "main form"),
    State("the columns of a roster file", "people:roster-columns", "main form"),
    State("what a roster file would do", "people:roster-check", "main h1"),
    State("slips", "people:slips", "main form"),
    State("school years", "people:years", "main h1"),
    State("days without school", "people:closures", "main h2"),
    State(
        "a day without school and without a name",
        "people:closures",
        ".form-errors",
        (send_badly("main form:has([name=first])"),),
    ),
    State("moving up", "people:move-up", "main h1"),
    State("the log", "people:log", "main h1"),
    State("languages", "people:languages", "main h1"),
    State("the account of staff", "people:account", "main h1"),
    State("the sign-in code", "people:second-step-set", "main h1"),
    State("children's data", "privacy:desk", "main h1"),
    State("what is deleted tonight", "privacy:tonight", "main h1"),
    State("the data of a child", "privacy:child", "main h1"),
    State("erasing a child", "privacy:erase", "main form"),
    State("samples", "assessment:samples", "main h1"),
    State("goal sets", "assessment:goal-sets", "main h1"),
    State("the week of the school", "assessment:school-week", "main h1"),
    State("the goals of the school", "assessment:school-goals", "main h1"),
    State("how common mistakes are", "assessment:school-mistakes", "main h1"),
)
SAME = (PLAN, LIST, LOOKED, GRID, SEQUENCE)
GROUPS = (
    Group("a teacher", "teacher", TEACHER, Look(width=1280)),
    Group("a lead", "lead", LEAD, Look(width=1280)),
    Group(
        "a teacher, dark", "teacher", SAME, Look("dark", 1280, media=(("color_scheme", "dark"),))
    ),
    Group(
        "a teacher, colours forced",
        "teacher",
        SAME,
        Look("forced", 1280, media=(("forced_colors", "active"),)),
    ),
    Group("a teacher on a phone", "teacher", TEACHER, Look("phone", 390)),
    Group("a lead on a phone", "lead", LEAD, Look("phone", 390)),
    Group("a teacher on the smallest phone", "teacher", SAME, Look("small", 320)),
    Group("a teacher, letters twice as large", "teacher", SAME, Look("large", 1280, letters=2)),
    Group(
        "a teacher, printed",
        "teacher",
        (GRID, State("the week summed up", "assessment:class-week", "main h1")),
        Look("printed", 700, media=(("media", "print"),)),
    ),
)
