"""The week summed up, and the mails that tell of it."""

import datetime as dt
from typing import Self

from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from portal.jobs.outbox import Outgoing, OutgoingQuerySet
from portal.people.asking import Asker
from portal.people.models import Child, Home, SchoolClass


class WeekSummaryQuerySet(models.QuerySet["WeekSummary"]):
    """Week summaries, by who may read them."""

    def visible_to(self, user: Asker) -> Self:
        """A class's for its staff; a family's for its own home and for the child's staff."""
        classes = SchoolClass.objects.taught_by(user)
        own = Home.objects.none()
        if user.is_active:
            own = Home.objects.filter(guardianships__adult=user, guardianships__ended_at=None)
        family = Q(
            audience=WeekSummary.Audience.FAMILY,
            home__in=own,
            child__in=Child.objects.at_home_with(user),
        )
        return self.filter(Q(school_class__in=classes) | family)


class WeekSummary(models.Model):
    """The summing-up of one ISO week: of a class for its staff, or of a child for one home."""

    class Audience(models.TextChoices):
        STAFF = "staff", _("staff")
        FAMILY = "family", _("family")

    audience = models.CharField(max_length=10, choices=Audience)
    school_class = models.ForeignKey(
        SchoolClass, on_delete=models.CASCADE, related_name="week_summaries"
    )
    child = models.ForeignKey(
        Child, on_delete=models.CASCADE, null=True, blank=True, related_name="week_summaries"
    )
    home = models.ForeignKey(
        Home, on_delete=models.CASCADE, null=True, blank=True, related_name="week_summaries"
    )
    week = models.DateField(help_text=_("The Monday it starts on."))
    figures = models.JSONField()
    made_at = models.DateTimeField(default=timezone.now)

    objects = WeekSummaryQuerySet.as_manager()

    class Meta:
        ordering = ["-week"]
        constraints = [
            models.UniqueConstraint(
                fields=["school_class", "week"],
                condition=Q(audience="staff"),
                name="one_class_summary_a_week",
            ),
            models.UniqueConstraint(
                fields=["child", "home", "week"],
                condition=Q(audience="family"),
                name="one_family_summary_a_week",
            ),
            models.CheckConstraint(
                condition=Q(audience="staff", child=None, home=None)
                | Q(audience="family", child__isnull=False, home__isnull=False),
                name="family_summary_has_a_home",
            ),
            models.CheckConstraint(condition=Q(week__iso_week_day=1), name="week_starts_on_monday"),
        ]

    def __str__(self) -> str:
        return f"{self.audience} summary {self.pk}"


class SummaryMailQuerySet(OutgoingQuerySet["SummaryMail"]):
    """Mails of summaries."""

    # Five attempts in all, so that a mail outlives a day on which the server takes none.
    pauses = tuple(dt.timedelta(minutes=minutes) for minutes in (10, 60, 6 * 60, 24 * 60))


class SummaryMail(Outgoing):
    """One mail of one summary to one person, sent once. Its words are made on sending."""

    summary = models.ForeignKey(WeekSummary, on_delete=models.CASCADE, related_name="mails")
    recipient = models.ForeignKey("people.User", on_delete=models.CASCADE, related_name="+")
    home = models.ForeignKey(
        Home, on_delete=models.CASCADE, null=True, blank=True, related_name="summary_mails"
    )
    week = models.DateField()

    objects = SummaryMailQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["summary", "recipient"], name="one_mail_a_reader"),
            models.UniqueConstraint(
                fields=["recipient", "home", "week"],
                condition=Q(home__isnull=False),
                name="one_mail_a_home_and_week",
            ),
        ]
        indexes = [
            models.Index(fields=["leased_until"], condition=Q(mailed_at=None), name="mail_to_send"),
        ]

    def __str__(self) -> str:
        return f"mail {self.pk}"
