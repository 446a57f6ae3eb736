"""The week on paper, as PDF: a class's for its staff, a school's for its lead, a sheet a family."""

import datetime as dt
from collections.abc import Iterable, Sequence

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from assessment.insight.weeks import Week
from assessment.looks.ready_made import said_here
from assessment.weekly.class_week import ClassWeek, Silent
from assessment.weekly.family_week import DayAtHome, FamilyWeek
from assessment.weekly.school_week import SchoolWeek
from tasks.cards.languages import page_language, phrase_in
from tasks.printing import A4, Paper
from tasks.printing.layout.letters import printable
from tasks.printing.layout.pages import BODY, Pages, tall

TITLE, PART = 20.0, 14.0  # points
INDENT = 6.0  # millimetres


def class_sheets(whole: ClassWeek, dated: dt.date, paper: Paper = A4) -> bytes:
    """Print the week of a class for its staff."""
    pages = Pages(paper, _("The week"), dated)
    name = whole.school_class.name
    begin(pages, f"{whole.school_class.school.name} · {name}", name, whole.week)
    heard = {"heard": whole.figures.heard, "all": whole.figures.children}
    pages.say(_("Work was set on %(days)s days.") % {"days": len(whole.days_set)})
    pages.say(_("Heard from %(heard)s of %(all)s children.") % heard)
    listing(pages, _("Not heard from"), map(silent_words, whole.silent))
    listing(pages, _("Sent work"), (f"{child}: {days(one.sent_days)}" for child, one in whole.sent))
    listing(pages, _("Said that it could not be done"), (str(child) for child, _said in whole.told))
    listing(pages, _("On paper"), map(str, whole.on_paper))
    listing(pages, _("Nobody at home has come in yet"), map(str, whole.not_in))
    seen = (goal_words(one.goal.label, one.children, one.new) for one in whole.goals)
    listing(pages, _("Goals seen"), seen)
    suggested = (
        f"{one.sentence} ({one.kind}): {', '.join(map(str, one.children))}"
        for one in whole.mistakes
    )
    listing(pages, _("Mistakes that may be behind wrong answers"), suggested)
    mistakes(pages, whole.gone, whole.stayed)
    if whole.left_out:
        pages.say(whole.left_out_words)
    groups = (
        f"{one.group.name}: "
        + _("heard from %(heard)s of %(all)s children")
        % {"heard": one.figures.heard, "all": one.figures.children}
        for one in whole.groups
    )
    listing(pages, _("Groups"), groups)
    return pages.finish()


def school_sheets(whole: SchoolWeek, dated: dt.date, paper: Paper = A4) -> bytes:
    """Print the week of a school for its lead: classes and counts, no child."""
    pages = Pages(paper, _("The week"), dated)
    begin(pages, whole.school.name, whole.school.name, whole.week)
    rows = (
        f"{one.school_class.name}: "
        + _("heard from %(heard)s of %(all)s children, %(set)s")
        % {"heard": f.heard, "all": f.children, "set": days(one.days_set)}
        if (f := one.figures)
        else f"{one.school_class.name}: " + _("not summed up yet")
        for one in whole.classes
    )
    listing(pages, _("Classes"), rows)
    listing(pages, _("Goals seen"), (goal_words(*one) for one in whole.goals))
    mistakes(pages, whole.gone, whole.stayed)
    return pages.finish()


def family_sheets(
    weeks: Iterable[FamilyWeek], week: Week, dated: dt.date, paper: Paper = A4
) -> bytes:
    """Print one sheet a child for the family: what was set, replies, the teacher's words."""
    pages = Pages(paper, _("The week"), dated)
    for one in weeks:
        name = printable(one.child.first_name)
        begin(pages, _("Number work"), name, week)
        parts = [(_("What was set"), [day_words(day) for day in one.days])]
        read = [look.for_family for look in one.replies]
        replies = [(look.reply, look.next_step) for look in read]
        for title, place in ((_("From the teacher"), 0), (_("Next step"), 1)):
            said = (said_here(pair[place], one.child)[0] for pair in replies if pair[place])
            parts.append((title, list(dict.fromkeys(said))))
        if one.coming:
            coming = date_format(one.coming.date, "l j E")
            named = phrase_in(one.coming.focus, page_language())[0]
            focus = f": {named}" if named else ""
            parts.append((_("What comes next"), [f"{coming}{focus}"]))
        for words, _lang in one.words:
            pages.say(words, gap=3)
        for title, items in on_one_side(pages, parts):
            listing(pages, title, items)
    return pages.finish()


def on_one_side(pages: Pages, parts: list[tuple[str, list[str]]]) -> list[tuple[str, list[str]]]:
    """Leave the oldest of what was said out, from the longest list first, until the rest fits."""
    while sum(high(pages, items) for _title, items in parts) > pages.room:
        said = max((items for _title, items in parts[1:3]), key=len)
        if len(said) <= 1:
            break
        del said[0]
    return parts


def high(pages: Pages, items: Sequence[str]) -> float:
    """Return the height of a heading and its list."""
    lines = (len(pages.wrap(item, pages.width - INDENT, BODY)) for item in items)
    return 3 + tall(PART) + sum(tall(BODY) * count + 1 for count in lines) if items else 0


def begin(pages: Pages, head: str, title: str, week: Week) -> None:
    """Begin a run of pages with its repeated head, its title and the days of the week."""
    first, last = (date_format(day, "j E Y") for day in (week.monday, week.sunday))
    span = _("%(first)s to %(last)s") % {"first": first, "last": last}
    pages.begin(head, span)
    pages.add()
    pages.say(title, TITLE, bold=True, gap=4)


def listing(pages: Pages, title: str, items: Iterable[str]) -> None:
    """Print a heading and its list; nothing where the list is empty."""
    lines = [pages.wrap(item, pages.width - INDENT, BODY) for item in items]
    if not lines:
        return
    pages.y += 2
    pages.need(tall(PART) + 1 + tall(BODY) * len(lines[0]))
    pages.text(pages.left, pages.y, title, PART, bold=True)
    pages.y += tall(PART) + 1
    for item in lines:
        pages.need(tall(BODY) * len(item))
        pages.text(pages.left + 1, pages.y, "•", BODY)
        pages.y = pages.lines(pages.left + INDENT, pages.y, item, BODY) + 1


def mistakes(
    pages: Pages, gone: Sequence[tuple[str, int]], stayed: Sequence[tuple[str, int]]
) -> None:
    """Print which mistakes went away in the week and which stayed."""
    listing(pages, _("Mistakes that went away"), map(counted, gone))
    listing(pages, _("Mistakes that stayed"), map(counted, stayed))


def counted(pair: tuple[str, int]) -> str:
    """Say a mistake and for how many children."""
    return f"{pair[0]}: {children(pair[1])}"


def goal_words(label: str, seen: int, new: int) -> str:
    """Say for how many children a goal was seen, and for how many newly without help."""
    text = f"{label}: {children(seen)}"
    first = _("%(count)s without help for the first time") % {"count": new}
    return f"{text}, {first}" if new else text


def silent_words(one: Silent) -> str:
    """Say for which day something last came from a child."""
    if one.since is None:
        return f"{one.child}: " + _("nothing has come so far")
    since = date_format(one.since, "l j F")
    return f"{one.child}: " + _("last sent for %(day)s") % {"day": since}


def day_words(day: DayAtHome) -> str:
    """Say what was set on a day."""
    parts = "; ".join(
        f"{part.part}: {phrase_in(part.title, page_language())[0]}" for part in day.parts
    )
    return f"{date_format(day.plan.date, 'l j E')}. {parts}"


def days(count: int) -> str:
    """Count days."""
    return _("1 day") if count == 1 else _("%(count)s days") % {"count": count}


def children(count: int) -> str:
    """Count children."""
    return _("1 child") if count == 1 else _("%(count)s children") % {"count": count}
