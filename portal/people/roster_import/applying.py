"""Running a plan: all of it in one transaction, and written down so that it can be undone."""

from typing import Any

from django.db import transaction
from django.utils import timezone

from portal.jobs.sending import sending
from portal.people.jobs import mail_invitation
from portal.people.models import (
    Child,
    Closure,
    Group,
    Guardianship,
    Home,
    Invitation,
    RosterRun,
    School,
    SchoolClass,
    User,
)
from portal.people.roster_import.grouping import HomeSign
from portal.people.roster_import.known import number_key
from portal.people.roster_import.planning import (
    INVITED,
    JOINS,
    MOVES_HOME,
    AdultPlan,
    ChildPlan,
    Kind,
    Plan,
)
from portal.people.roster_import.running import plan_of
from portal.people.school.moving_up import place_children


class ChangedSinceError(Exception):
    """The plan is not the one that was shown, or something in it must be mended first."""


@transaction.atomic
def apply_run(run: RosterRun, digest: str, *, by_mail: bool, made_by: User) -> None:
    """Do all that the plan with *digest* says, or nothing at all. Raises ChangedSinceError.

    *by_mail*: whether new adults are invited by mail; without, they wait for a next file or slip.
    """
    # Everybody who changes a roster waits here: two runs of one school come one after the other.
    School.objects.select_for_update().get(pk=run.school_id)
    run = RosterRun.objects.drafts().filter(pk=run.pk).first()
    if run is None:
        raise ChangedSinceError
    plan = plan_of(run)
    if plan.is_blocked or plan.digest != digest:
        raise ChangedSinceError
    changes = Applier(run, plan, made_by, by_mail=by_mail).apply()
    figures = plan.figures if by_mail else {**plan.figures, INVITED: 0}
    RosterRun.objects.filter(pk=run.pk).update(
        state=RosterRun.State.APPLIED,
        applied_at=timezone.now(),
        content=None,
        answers={},
        changes=changes,
        figures=figures,
    )


class Applier:
    """Does what a plan says, and keeps of each change what undoing it needs."""

    def __init__(self, run: RosterRun, plan: Plan, made_by: User, *, by_mail: bool) -> None:
        self.run, self.plan, self.made_by, self.by_mail = run, plan, made_by, by_mail
        self.changes: list[dict[str, Any]] = []
        self.classes: dict[str, SchoolClass] = {}
        self.homes: dict[HomeSign, Home] = {}
        self.mailed: set[tuple[str, int]] = set()

    def apply(self) -> list[dict[str, Any]]:
        """Do everything; give the changes in the order they were made."""
        self.settle_closures()
        self.settle_classes()
        self.settle_homes()
        for plan in self.plan.children:
            if plan.kind != Kind.LEFT_OUT:
                self.settle_adults(plan, self.settle_child(plan))
        for leaver in self.plan.leavers:
            self.place(leaver.pk, leaver.class_pk, None)
        return self.changes

    def note(self, what: str, **more: Any) -> None:
        """Keep one change."""
        self.changes.append({"what": what, **more})

    def settle_closures(self) -> None:
        """Close the school on the days that are not known yet."""
        for each in self.plan.closures:
            if not each.is_known:
                days = {"first": each.first, "last": each.last}
                made = Closure.objects.create(school_id=self.run.school_id, name=each.name, **days)
                self.note("closure", pk=made.pk)

    def settle_classes(self) -> None:
        """Make the classes that the year has not yet."""
        for name in self.plan.new_classes:
            made = SchoolClass.objects.create(year_id=self.run.year_id, name=name)
            self.note("class", pk=made.pk)
        of_year = SchoolClass.objects.filter(year=self.run.year_id)
        self.classes = {each.name.casefold(): each for each in of_year}

    def settle_homes(self) -> None:
        """Make new homes, and give known ones the address they have now."""
        for sign, target in self.plan.homes.items():
            if target.pk is None:
                self.homes[sign] = Home.objects.create(
                    school_id=self.run.school_id, address_key=target.address_key
                )
                self.note("home", pk=self.homes[sign].pk)
                continue
            self.homes[sign] = Home.objects.get(pk=target.pk)
            if target.is_new_address:
                Home.objects.filter(pk=target.pk).update(address_key=target.address_key)
                before, after = target.key_before, target.address_key
                self.note("address", home=target.pk, before=before, after=after)

    def settle_child(self, plan: ChildPlan) -> Child:
        """Make or change one child, and put them into their class and homes."""
        school_class = self.classes[plan.child.class_name.casefold()]
        child = self.changed_child(plan) if plan.known else self.new_child(plan, school_class)
        if plan.known and plan.known.class_pk != school_class.pk:
            self.place(child.pk, plan.known.class_pk, school_class)
        for sign in plan.child.homes:
            home = self.homes[sign]
            if not home.children.filter(pk=child.pk).exists():
                home.children.add(child)
                self.note("lives", home=home.pk, child=child.pk)
        return child

    def new_child(self, plan: ChildPlan, school_class: SchoolClass) -> Child:
        """Make a child."""
        child = Child.objects.create(
            school_id=self.run.school_id,
            school_class=school_class,
            first_name=plan.child.first,
            initial=plan.child.initial,
            office_key=number_key(self.run.school_id, plan.child.number),
        )
        self.note("child", pk=child.pk)
        return child

    def changed_child(self, plan: ChildPlan) -> Child:
        """Spell a known child's name as the file does, and keep the mark of the number."""
        child = Child.objects.get(pk=plan.known.pk)
        key = number_key(self.run.school_id, plan.child.number)
        before = {"name": [child.first_name, child.initial], "key": child.office_key}
        child.first_name, child.initial = plan.child.first, plan.child.initial
        child.office_key = key or child.office_key
        after = {"name": [child.first_name, child.initial], "key": child.office_key}
        if before != after:
            child.save(update_fields=["first_name", "initial", "office_key"])
            self.note("named", child=child.pk, before=before, after=after)
        return child

    def place(self, pk: int, before: int | None, to: SchoolClass | None) -> None:
        """Put a known child into a class, or into none."""
        groups = Group.children.through.objects.filter(child=pk)
        left = list(groups.exclude(group__school_class=to).values_list("group", flat=True))
        place_children([pk], to)
        self.note("placed", child=pk, before=before, after=to.pk if to else None, groups=left)

    def settle_adults(self, plan: ChildPlan, child: Child) -> None:
        """Invite, join or move the adults of one child."""
        for adult in plan.adults:
            home = self.homes[adult.home]
            if adult.what == INVITED and self.by_mail:
                self.invite(adult, child, home)
            elif adult.what == JOINS:
                joined = Guardianship.objects.create(adult_id=adult.pk, child=child, home=home)
                self.note("joined", pk=joined.pk)
            elif adult.what == MOVES_HOME:
                moving = Guardianship.objects.filter(pk=adult.pk)
                before = moving.values_list("home", flat=True).get()
                moving.update(home=home)
                self.note("moved home", pk=adult.pk, before=before, after=home.pk)

    def invite(self, adult: AdultPlan, child: Child, home: Home) -> None:
        """Invite an adult by mail; one mail for all the children of a home."""
        email = adult.adult.email
        rides = (email, home.pk) in self.mailed
        self.mailed.add((email, home.pk))
        made = Invitation.ask_by_mail(child, home, email, self.made_by, rides=rides)
        self.note("invited", pk=made.pk)
        if not rides:
            transaction.on_commit(sending(mail_invitation, made.pk))
