"""A class's week as plain data, and as text to read."""

from collections.abc import Iterable, Iterator
from typing import Any

from assessment.weekly.class_week import ClassWeek, Silent


def as_data(whole: ClassWeek) -> dict[str, Any]:
    """Return the week as what JSON can hold."""
    return {
        "school": whole.school_class.school.name,
        "class": whole.school_class.name,
        "week": str(whole.week),
        "from": str(whole.week.monday),
        "to": str(whole.week.sunday),
        "days_set": [str(day) for day in whole.days_set],
        "children": whole.figures.children,
        "heard_from": whole.figures.heard,
        "sent": [
            {"child": str(child), "days": one.sent_days, "submissions": one.pieces}
            for child, one in whole.sent
        ],
        "could_not_be_done": [
            {"child": str(child), "days": [str(each.day_plan.date) for each in said]}
            for child, said in whole.told
        ],
        "not_heard_from": [
            {"child": str(one.child), "since": one.since and str(one.since)} for one in whole.silent
        ],
        "on_paper": [str(child) for child in whole.on_paper],
        "not_come_in": [str(child) for child in whole.not_in],
        "goals": [
            {
                "code": one.goal.code,
                "goal": one.goal.label,
                "children": one.children,
                "first_time_without_help": one.new,
            }
            for one in whole.goals
        ],
        "mistakes_suggested": [
            {
                "kind": one.kind,
                "mistake": one.sentence,
                "children": [str(child) for child in one.children],
            }
            for one in whole.mistakes
        ],
        "mistakes_gone": [{"mistake": name, "children": count} for name, count in whole.gone],
        "mistakes_that_stayed": [
            {"mistake": name, "children": count} for name, count in whole.stayed
        ],
        "left_out": whole.left_out,
        "groups": [
            {
                "group": one.group.name,
                "children": one.figures.children,
                "heard_from": one.figures.heard,
            }
            for one in whole.groups
        ],
    }


def as_text(whole: ClassWeek) -> str:
    """Return the week as text, one heading and list after another."""
    data = as_data(whole)
    days = len(whole.days_set)
    lines = [
        f"{data['class']}, {data['school']}: week {data['week']} ({data['from']} to {data['to']})",
        f"Work was set on {days} {'day' if days == 1 else 'days'}. "
        f"Heard from {data['heard_from']} of {data['children']} children.",
        *section("Not heard from", map(silent_line, whole.silent)),
        *section("Sent work", (f"{one['child']}: days {one['days']}" for one in data["sent"])),
        *section(
            "Said that it could not be done",
            (f"{one['child']}: {', '.join(one['days'])}" for one in data["could_not_be_done"]),
        ),
        *section("On paper", data["on_paper"]),
        *section("Nobody at home has come in yet", data["not_come_in"]),
        *section("Goals seen", (f"{one['goal']}: {one['children']}" for one in data["goals"])),
        *section(
            "Mistakes that may be behind wrong answers",
            (
                f"{one['mistake']} ({one['kind']}): {', '.join(one['children'])}"
                for one in data["mistakes_suggested"]
            ),
        ),
        *section("Mistakes that went away", map(counted, whole.gone)),
        *section("Mistakes that stayed", map(counted, whole.stayed)),
        *section("Left out", left_out_lines(whole.left_out)),
        *section("Groups", map(group_line, data["groups"])),
    ]
    return "\n".join(lines)


def silent_line(one: Silent) -> str:
    """Say for which day something last came from a child."""
    return f"{one.child}: " + (f"last for {one.since}" if one.since else "nothing so far")


def left_out_lines(count: int) -> Iterator[str]:
    """Yield what says that *count* things of the week are missing; nothing for none."""
    if count:
        yield f"{count} that could not be read"


def counted(pair: tuple[str, int]) -> str:
    """Say something and with how many children it was so."""
    return f"{pair[0]}: {pair[1]}"


def group_line(one: dict[str, Any]) -> str:
    """Say from how many children of a group something came."""
    return f"{one['group']}: heard from {one['heard_from']} of {one['children']} children"


def section(title: str, items: Iterable[str]) -> Iterator[str]:
    """Yield a heading and its list; nothing where the list is empty."""
    listed = [f"  {item}" for item in items]
    if listed:
        yield from ("", title, *listed)
