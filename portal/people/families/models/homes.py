"""Children, the homes they live in, and the adults there."""

from typing import Any, Self

from django.db import models
from django.db.models import OuterRef, Q
from django.utils.translation import gettext_lazy as _

from portal.people.asking import Asker
from portal.people.school.models import School, SchoolClass, StaffPost


class HomeQuerySet(models.QuerySet["Home"]):
    """Homes, by who lives there."""

    def of(self, child: "Child") -> Self:
        """Homes *child* lives in, oldest first."""
        return self.filter(children=child).order_by("pk")


class Home(models.Model):
    """One household. A child with two homes has work from each, and neither sees the other's."""

    school = models.ForeignKey(School, on_delete=models.CASCADE, related_name="homes")
    children = models.ManyToManyField("people.Child", related_name="homes", blank=True)
    # Tells that two rows of a roster file are one household. The address itself is not kept.
    address_key = models.CharField(max_length=64, blank=True)
    wants_mail = models.BooleanField(default=True, help_text=_("The week summary by mail."))
    created_at = models.DateTimeField(auto_now_add=True)

    objects = HomeQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["school", "address_key"],
                condition=~Q(address_key=""),
                name="one_home_an_address",
            ),
        ]

    def __str__(self) -> str:
        return f"home {self.pk}"


class ChildQuerySet(models.QuerySet["Child"]):
    """Children, by who may know what of them."""

    def taught_by(self, user: Asker) -> Self:
        """Children whose work *user* sees as a member of staff."""
        return self.filter(school_class__in=SchoolClass.objects.taught_by(user))

    def at_home_with(self, user: Asker) -> Self:
        """Children *user* is an adult at home of."""
        if not user.is_active:
            return self.none()
        return self.filter(pk__in=Guardianship.objects.current().filter(adult=user).values("child"))

    def kept_by(self, user: Asker) -> Self:
        """Children on a roster that *user* keeps, those who have left among them."""
        if not user.is_active:
            return self.none()
        keepers = [StaffPost.Role.LEAD, StaffPost.Role.OFFICE]
        posts = StaffPost.objects.current().filter(user=user, role__in=keepers)
        return self.filter(school__in=posts.values("school"))

    def visible_to(self, user: Asker) -> Self:
        """Children *user* may know of: own, taught, or on the roster that the office keeps."""
        if not user.is_active:
            return self.none()
        office = StaffPost.objects.current().filter(user=user, role=StaffPost.Role.OFFICE)
        children = self.model.objects
        return self.filter(
            Q(pk__in=children.taught_by(user).values("pk"))
            | Q(pk__in=children.at_home_with(user).values("pk"))
            | Q(school__in=office.values("school"))
        )


class Child(models.Model):
    """A child, known by first name and initial. Without a class: one who has left."""

    school = models.ForeignKey(School, on_delete=models.CASCADE, related_name="children")
    school_class = models.ForeignKey(
        SchoolClass, on_delete=models.SET_NULL, null=True, blank=True, related_name="children"
    )
    first_name = models.CharField(max_length=40)
    initial = models.CharField(max_length=2, blank=True, help_text=_("Of the family name."))
    # Finds the child again in the next roster file. The school's own number is not kept.
    office_key = models.CharField(max_length=64, blank=True)

    objects = ChildQuerySet.as_manager()

    class Meta:
        ordering = ["first_name", "initial", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["school", "office_key"],
                condition=~Q(office_key=""),
                name="one_child_a_number",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.first_name} {self.initial}".strip()


class GuardianshipQuerySet(models.QuerySet["Guardianship"]):
    """Who is at home with whom, now or before."""

    def kept_by(self, user: Asker) -> Self:
        """Those of children on a roster that *user* keeps; leavers of the school as well."""
        return self.filter(child__in=Child.objects.kept_by(user))

    def current(self) -> Self:
        """Those not ended."""
        return self.filter(ended_at=None)

    def that_let_see(self, user: Asker) -> Self:
        """Those by which *user* lives in the `home` with the `child` of a row around this query.

        For `Exists`: what is a home's own is seen from that home alone, and by who is active.
        """
        if not user.is_active:
            return self.none()
        return self.current().filter(adult=user, child=OuterRef("child"), home=OuterRef("home"))


class Guardianship(models.Model):
    """An adult is at home with a child, in one home. Ended ones give no access at all."""

    adult = models.ForeignKey("people.User", on_delete=models.CASCADE, related_name="guardianships")
    child = models.ForeignKey(Child, on_delete=models.CASCADE, related_name="guardianships")
    home = models.ForeignKey(Home, on_delete=models.PROTECT, related_name="guardianships")
    created_at = models.DateTimeField(auto_now_add=True)
    ended_at = models.DateTimeField(null=True, blank=True)

    objects = GuardianshipQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["adult", "child"],
                condition=Q(ended_at=None),
                name="one_guardianship_a_pair",
            ),
        ]

    def __str__(self) -> str:
        return f"guardianship {self.pk}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Keep this, and that the child lives in the home."""
        super().save(*args, **kwargs)
        self.home.children.add(self.child)
