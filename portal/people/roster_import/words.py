"""A plan in words: what the office reads before it says yes."""

from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from portal.people.roster_import import planning
from portal.people.roster_import.closures import FileClosure
from portal.people.roster_import.known import ENDED, OPEN, REVOKED, RUN_OUT, KnownChild
from portal.people.roster_import.planning import AdultPlan, ChildPlan, Kind, Plan


@dataclass(frozen=True)
class Fate:
    """What becomes of one child or row, to be shown."""

    rows: str
    name: str
    class_name: str
    kind: str
    words: str
    adults: tuple[str, ...] = ()
    question: str = ""  # the row that an answer is kept under
    choices: tuple[tuple[str, str], ...] = ()


def fates(plan: Plan) -> list[Fate]:
    """Return every row's fate: first what must be mended or answered, then the rest by row."""
    wrong = [problem_fate(problem.row, str(problem)) for problem in plan.problems]
    children = [child_fate(each) for each in plan.children]
    asked = [each for each in children if each.kind == Kind.QUESTION]
    settled = [each for each in children if each.kind != Kind.QUESTION]
    leavers = [leaver_fate(each) for each in plan.leavers]
    return [*wrong, *asked, *settled, *leavers, *map(closure_fate, plan.closures)]


def closure_fate(closure: FileClosure) -> Fate:
    """Return the fate of a day or span without school."""
    known = _("without school already: %(days)s") if closure.is_known else _("no school: %(days)s")
    words = known % {"days": closure.days}
    return Fate(str(closure.row), closure.name, "", planning.CLOSURE, words)


def problem_fate(row: int, words: str) -> Fate:
    """Return the fate of a row that must be mended."""
    return Fate(str(row), "", "", Kind.PROBLEM, words)


def leaver_fate(known: KnownChild) -> Fate:
    """Return the fate of a child who is not in the file of the whole school."""
    words = _("leaves: not in the file. What was sent is kept; the child is in no class.")
    return Fate("", name_of(known), known.class_name, Kind.LEAVES, words)


def child_fate(plan: ChildPlan) -> Fate:
    """Return the fate of one child of the file."""
    child = plan.child
    choices: tuple[tuple[str, str], ...] = ()
    if plan.kind == Kind.QUESTION:
        choices = tuple((str(each.pk), candidate_words(each)) for each in plan.candidates)
        choices = (*choices, ("new", _("another child, new here")))
    return Fate(
        rows=", ".join(str(row) for row in child.rows),
        name=f"{child.first} {child.initial}".strip(),
        class_name=child.class_name,
        kind=plan.kind,
        words=child_words(plan),
        adults=adult_words(plan),
        question=str(child.rows[0]) if choices else "",
        choices=choices,
    )


def candidate_words(known: KnownChild) -> str:
    """Say which child is meant, by class and by who has come in."""
    words = {"class": known.class_name, "adults": ", ".join(known.at_home_with)}
    if known.at_home_with:
        return _("the child in %(class)s, at home with %(adults)s") % words
    return _("the child in %(class)s, for whom nobody has come in") % words


def child_words(plan: ChildPlan) -> str:
    """Say what becomes of the child."""
    to = {"to": plan.child.class_name, "from": plan.known.class_name if plan.known else ""}
    words = {
        Kind.NEW: _("new child"),
        Kind.SAME: _("same as before"),
        Kind.MOVES: _("moves from %(from)s to %(to)s"),
        Kind.RETURNS: _("comes back, into %(to)s"),
        Kind.LEFT_OUT: _("left out, with the class"),
        Kind.QUESTION: _("There is a child of this name already. Who is this?"),
    }[plan.kind] % to
    if plan.is_renamed and plan.known:
        words += _("; until now called %(name)s") % {"name": name_of(plan.known)}
    return words


def adult_words(plan: ChildPlan) -> tuple[str, ...]:
    """Say what becomes of each adult of the child."""
    said = [one_adult(each) for each in plan.adults]
    if plan.child.nameless:
        said.append(
            ngettext(
                "%(count)s adult without e-mail address: print a slip",
                "%(count)s adults without e-mail address: print slips",
                plan.child.nameless,
            )
            % {"count": plan.child.nameless}
        )
    if len(plan.child.homes) > 1:
        said.append(_("%(count)s homes, apart") % {"count": len(plan.child.homes)})
    return tuple(said)


def one_adult(plan: AdultPlan) -> str:
    """Say what becomes of one adult."""
    words = {
        planning.INVITED: _("%(email)s: new adult, invited by mail"),
        planning.JOINS: _("%(email)s: has come in for a sister or brother; sees this child too"),
        planning.MOVES_HOME: _("%(email)s: now in another home; sees what is sent from there"),
        planning.STAYS: _("%(email)s: has come in"),
        OPEN: _("%(email)s: invited before, has not come in yet"),
        RUN_OUT: _("%(email)s: did not come in time; mail again from the open invitations"),
        ENDED: _("%(email)s: access was ended before; not invited"),
        REVOKED: _("%(email)s: the invitation was ended before; not invited"),
    }
    return words[plan.what] % {"email": plan.adult.email}


def name_of(known: KnownChild) -> str:
    """Return the name of a child as it stands here."""
    return f"{known.first} {known.initial}".strip()
