"""To which children, and homes of theirs, a piece can be put, and who then sees it."""

from dataclasses import dataclass

from django.db.models import Prefetch
from django.utils.translation import gettext as _

from evidence.models import Submission
from portal.people.models import Child, Guardianship, Home, User


@dataclass(frozen=True)
class Place:
    """A child of the class, and the home that sees the piece there; None: no home does."""

    child: Child
    home: Home | None
    adults: str
    is_own_home: bool
    is_one_of_several: bool

    @property
    def value(self) -> str:
        """Return how a form names it."""
        return f"{self.child.pk}-{self.home.pk if self.home else 0}"

    @property
    def label(self) -> str:
        """Name it to staff: the home only where the child has several."""
        if not self.is_one_of_several:
            return str(self.child)
        return _("%(child)s, at home with %(adults)s") % {
            "child": self.child,
            "adults": self.adults or _("nobody yet"),
        }


def places_for(work: Submission, user: User) -> list[Place]:
    """List where pieces of *work* can be put by *user*: those of the home it came from first.

    With a child of that home it stays in it. What a home sent goes to no other home, as families
    are promised: with another's child, staff alone see it. What staff posted goes where it belongs.
    """
    here = Guardianship.objects.current().select_related("adult").order_by("pk")
    homes = Home.objects.order_by("pk").prefetch_related(Prefetch("guardianships", here))
    children = Child.objects.taught_by(user).filter(school_class=work.child.school_class_id)
    near = children.exclude(pk=work.child_id).order_by("first_name", "initial", "pk")
    found = []
    for child in near.prefetch_related(Prefetch("homes", homes)):
        lives_in = list(child.homes.all())
        own = [home for home in lives_in if home.pk == work.home_id]
        others = lives_in if work.by_staff else []
        for home in own or others or [None]:
            several = not own and len(others) > 1
            found.append(Place(child, home, adults_of(home, child), bool(own), several))
    return sorted(found, key=lambda place: not place.is_own_home)


def adults_of(home: Home | None, child: Child) -> str:
    """Name the adults who live in *home* with *child*."""
    ties = home.guardianships.all() if home else []
    return ", ".join(tie.adult.name for tie in ties if tie.child_id == child.pk)


def who_sees(work: Submission, place: Place, *, also: bool) -> str:
    """Say who will see a piece of *work* once it is at *place*, and who will not."""
    names = {"child": work.child, "other": place.child, "adults": place.adults}
    if place.is_own_home:
        return _(
            "The home that sent it sees it with the work of %(other)s. No other home does."
        ) % (names)
    if not place.adults:
        then = _("No home will see it with the work of %(other)s.")
    else:
        then = _("%(adults)s, at home with %(other)s, will see it. They are not told who sent it.")
    if work.home_id is None:
        left = ""
    elif also:
        left = _("The home of %(child)s sees it as before, and is not told.")
    else:
        left = _("The home of %(child)s will not see it any more.")
    return f"{then} {left}".strip() % names
