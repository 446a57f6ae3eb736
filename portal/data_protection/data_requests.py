"""What a family asks of the school about its data, until somebody has seen to it."""

from typing import Self

from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from portal.people.asking import Asker
from portal.people.models import Child, StaffPost, User


class DataRequestQuerySet(models.QuerySet["DataRequest"]):
    """Wishes, by who sees to them."""

    def visible_to(self, user: Asker) -> Self:
        """Wishes at the schools that *user* leads."""
        if not user.is_active:
            return self.none()
        led = StaffPost.objects.current().filter(user=user, role=StaffPost.Role.LEAD)
        return self.filter(child__school__in=led.values("school"))

    def open(self) -> Self:
        """Those nobody has seen to yet."""
        return self.filter(settled_at=None)


class DataRequest(models.Model):
    """One thing that an adult at home asked for. `work`: the key of the piece it is about."""

    class What(models.TextChoices):
        DELETE_WORK = "delete work", _("delete a piece of work")
        DELETE_ALL = "delete all", _("delete all that is kept of a child")
        ASK = "ask", _("talk about a child's data")

    child = models.ForeignKey(Child, on_delete=models.CASCADE, related_name="wishes")
    asked_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, related_name="+"
    )
    what = models.CharField(max_length=12, choices=What)
    work = models.BigIntegerField(null=True, blank=True)
    asked_at = models.DateTimeField(default=timezone.now)
    settled_at = models.DateTimeField(null=True, blank=True)
    settled_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    objects = DataRequestQuerySet.as_manager()

    class Meta:
        db_table = "privacy_wish"
        ordering = ["asked_at", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["child", "asked_by", "what"],
                condition=Q(settled_at=None, work=None),
                name="one_open_wish_of_a_kind",
            ),
            models.UniqueConstraint(
                fields=["asked_by", "work"],
                condition=Q(settled_at=None, work__isnull=False),
                name="one_open_wish_a_work",
            ),
        ]

    def __str__(self) -> str:
        return f"wish {self.pk}"

    @classmethod
    def ask(cls, child: Child, what: str, by: User, work: int | None = None) -> "DataRequest":
        """Write down that *by* asks for *what*; asked twice, it is noted once."""
        same = cls.objects.open()
        wish, _new = same.get_or_create(child=child, what=what, work=work, asked_by=by)
        return wish
