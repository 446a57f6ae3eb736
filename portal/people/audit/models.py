"""What was done and seen, by whom and when: ids only, added to and never changed."""

import datetime as dt
from typing import Any, NoReturn, Self

from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from portal.people.asking import Asker
from portal.people.school.models import School, StaffPost

KEPT = dt.timedelta(days=365)


class CannotChangeError(Exception):
    """An event is never changed or deleted; only `purge` takes away those that are old."""


class EventQuerySet(models.QuerySet["Event"]):
    """Events, by who may read them."""

    def visible_to(self, user: Asker) -> Self:
        """Events of the schools that *user* leads."""
        if not user.is_active:
            return self.none()
        led = StaffPost.objects.current().filter(user=user, role=StaffPost.Role.LEAD)
        return self.filter(school__in=led.values("school"))

    def purge(self) -> int:
        """Delete what is older than a year, and give how many that were."""
        return super().filter(at__lt=timezone.now() - KEPT)._raw_delete(self.db)

    def update(self, **values: Any) -> NoReturn:
        """Refuse."""
        raise CannotChangeError

    def delete(self) -> NoReturn:
        """Refuse."""
        raise CannotChangeError


class Event(models.Model):
    """One thing that somebody did or saw. It names nobody: whoever reads it looks the ids up."""

    class What(models.TextChoices):
        SIGNED_IN = "signed in", _("signed in")
        SIGN_IN_FAILED = "sign-in failed", _("could not sign in")
        SIGNED_OUT = "signed out", _("signed out")
        DEVICES_ENDED = "devices ended", _("signed a device out")
        SECOND_STEP_PASSED = "second step", _("passed the sign-in code")
        SECOND_STEP_FAILED = "second step failed", _("did not pass the sign-in code")
        SECOND_STEP_SET = "second step set", _("set up the sign-in code")
        SECOND_STEP_REMOVED = "second step removed", _("removed a sign-in code")
        RECOVERY_CODE_USED = "recovery code used", _("used a recovery code")
        RECOVERY_CODES_MADE = "recovery codes made", _("made new recovery codes")
        PASSWORD_SET = "password set", _("set a password")
        ADDRESS_CHANGED = "address changed", _("changed the e-mail address")
        REFUSED = "refused", _("was refused a page")
        STAFF_ADDED = "staff added", _("added a member of staff")
        STAFF_CHANGED = "staff changed", _("changed a member of staff's post")
        STAFF_ENDED = "staff ended", _("ended a member of staff's post")
        RULE_CHANGED = "rule changed", _("changed the school's rules")
        INVITED = "invited", _("invited an adult")
        INVITATION_ENDED = "invitation ended", _("ended an invitation")
        CAME_IN = "came in", _("came in by invitation")
        GUARDIANSHIP_ENDED = "guardianship ended", _("ended an adult's access to a child")
        ROSTER_APPLIED = "roster applied", _("ran a roster file")
        ROSTER_UNDONE = "roster undone", _("undid a roster file")
        HOMES_JOINED = "homes joined", _("joined two homes of a child")
        CHILD_CHANGED = "child changed", _("changed a child's place on the roster")
        YEAR_MADE = "year made", _("made a school year")
        MOVED_UP = "moved up", _("moved children up")
        MEDIA_SEEN = "media seen", _("looked at what a child sent")
        MEDIA_TAKEN = "media taken", _("downloaded what a child sent")
        CONSENT_WRITTEN = "consent written", _("wrote down an answer given on paper")
        HELD = "held", _("held a child's data")
        HOLD_ENDED = "hold ended", _("ended a hold")
        OTHERS_NAMED = "others named", _("said who else a picture shows")
        PIECE_PLACED = "piece placed", _("put a piece to another child")
        PLACING_UNDONE = "placing undone", _("undid putting a piece to another child")
        EXPORTED = "exported", _("exported children's data")
        DELETED = "deleted", _("deleted children's data")

    class Role(models.TextChoices):
        LEAD = "lead", _("lead")
        TEACHER = "teacher", _("teacher")
        ASSISTANT = "assistant", _("assistant")
        OFFICE = "office", _("office")
        FAMILY = "family", _("adult at home")
        VISITOR = "visitor", _("visitor")
        PORTAL = "portal", _("the portal itself")

    school = models.ForeignKey(School, on_delete=models.CASCADE, null=True, related_name="events")
    at = models.DateTimeField(default=timezone.now)
    # The id alone, and no tie: what an account did stays known when the account is deleted.
    who = models.BigIntegerField(null=True)
    role = models.CharField(max_length=10, choices=Role)
    what = models.CharField(max_length=20, choices=What)
    kind = models.CharField(max_length=60, blank=True)
    object_id = models.BigIntegerField(null=True)
    request_id = models.CharField(max_length=32, blank=True)

    objects = EventQuerySet.as_manager()

    class Meta:
        ordering = ["-at", "-pk"]
        indexes = [
            models.Index(fields=["school", "-at"], name="event_of_school"),
            models.Index(fields=["kind", "object_id", "-at"], name="event_about"),
        ]

    def __str__(self) -> str:
        return f"{self.what} at {self.at:%Y-%m-%d %H:%M}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Add this event. Raises CannotChangeError for one that is there already."""
        if self.pk is not None:
            raise CannotChangeError
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> NoReturn:
        """Refuse."""
        raise CannotChangeError
