"""What counts as agreed to in a class, child by child."""

from dataclasses import dataclass

from django.db.models import Exists, OuterRef

from portal.people.families.models.homes import ChildQuerySet
from portal.people.models import Child, Consent, Purpose


@dataclass(frozen=True)
class Standing:
    """One purpose for one child: whether somebody agreed, whether somebody refused."""

    purpose: Purpose
    yes: bool
    no: bool

    @property
    def counts(self) -> bool:
        """Whether it may be done."""
        return self.yes and not self.no


@dataclass(frozen=True)
class Line:
    """One child, and how each purpose stands."""

    child: Child
    standings: list[Standing]


def report(children: ChildQuerySet) -> list[Line]:
    """Return how each purpose stands for each of *children*, in one query.

    It does not tell which home said what: staff need to know only whether something may be done.
    """
    answers = Consent.objects.active().filter(child=OuterRef("pk"))
    marks = {
        f"{purpose.name}_{given}": Exists(answers.filter(purpose=purpose, given=given))
        for purpose in Purpose.asked()
        for given in (True, False)
    }
    return [
        Line(
            child,
            [
                Standing(
                    purpose,
                    getattr(child, f"{purpose.name}_True"),
                    getattr(child, f"{purpose.name}_False"),
                )
                for purpose in Purpose.asked()
            ],
        )
        for child in children.annotate(**marks)
    ]
