"""Children, the homes they live in, and the adults there."""

from typing import Any, Self

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from portal.people.models.schools import School, SchoolClass, StaffPost


class Home(models.Model):
    """One household. A child with two homes has work from each, and neither sees the other's."""

    school = models.ForeignKey(School, on_delete=models.CASCADE, related_name="homes")
    wants_mail = models.BooleanField(default=True, help_text=_("The week summary by mail."))
    created_at = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        return f"home {self.pk}"


class ChildQuerySet(models.QuerySet["Child"]):
    """Children, by who may know what of them."""

    def taught_by(self, user: Any) -> Self:
        """Children whose work *user* sees as a member of staff."""
        return self.filter(school_class__in=SchoolClass.objects.taught_by(user))

    def at_home_with(self, user: Any) -> Self:
        """Children *user* is an adult at home of."""
        if not user.is_active:
            return self.none()
        return self.filter(pk__in=Guardianship.objects.current().filter(adult=user).values("child"))

    def visible_to(self, user: Any) -> Self:
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

    objects = ChildQuerySet.as_manager()

    class Meta:
        ordering = ["first_name", "initial", "pk"]

    def __str__(self) -> str:
        return f"{self.first_name} {self.initial}".strip()


class GuardianshipQuerySet(models.QuerySet["Guardianship"]):
    """Who is at home with whom, now or before."""

    def current(self) -> Self:
        """Those not ended."""
        return self.filter(ended_at=None)


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
