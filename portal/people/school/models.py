"""Schools, their years and closures, classes and groups, and who works where."""

import datetime as dt
from typing import Self
from zoneinfo import ZoneInfo, available_timezones

from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import F, Q
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _g
from django.utils.translation import gettext_lazy as _

from portal import demo_date as demo_day
from portal.jobs.outbox import Outgoing, OutgoingQuerySet
from portal.people.asking import Asker

# What the mail with a link waits for after each refusal by the mail server: a week in all.
PAUSES = (dt.timedelta(minutes=10),) * (7 * 24 * 6)


def is_time_zone(name: str) -> None:
    """Raise ValidationError unless *name* is in the IANA time zone database."""
    if name not in available_timezones():
        raise ValidationError(
            _("%(name)s is not a time zone, such as Europe/London."), params={"name": name}
        )


class School(models.Model):
    """A school, with the clock it lives by and the hour at which the week is summed up."""

    name = models.CharField(max_length=120)
    time_zone = models.CharField(max_length=50, default="Europe/London", validators=[is_time_zone])
    summary_hour = models.TimeField(default=dt.time(15, 30), help_text=_("On Friday, local time."))
    requires_second_factor = models.BooleanField(
        default=True,
        help_text=_("Staff type a sign-in code before any child's page opens."),
    )
    safeguarding_lead_name = models.CharField(
        _("designated safeguarding lead"), max_length=80, blank=True
    )
    safeguarding_lead_phone = models.CharField(
        _("telephone of the safeguarding lead"), max_length=40, blank=True
    )
    privacy_contact = models.CharField(
        _("whom families ask about their data"), max_length=200, blank=True
    )

    def __str__(self) -> str:
        return self.name

    @property
    def zone(self) -> ZoneInfo:
        """Return the school's time zone."""
        return ZoneInfo(self.time_zone)

    def today(self) -> dt.date:
        """Return the date at the school now; in the demo, the school day that it shows."""
        return demo_day.shown() or timezone.now().astimezone(self.zone).date()


class SchoolYear(models.Model):
    """A school year; both days are within it."""

    school = models.ForeignKey(School, on_delete=models.CASCADE, related_name="years")
    starts = models.DateField()
    ends = models.DateField()

    class Meta:
        ordering = ["starts"]
        constraints = [
            models.CheckConstraint(
                condition=Q(ends__gt=F("starts")), name="year_ends_after_it_starts"
            ),
            models.UniqueConstraint(fields=["school", "starts"], name="one_year_per_start"),
        ]

    def __str__(self) -> str:
        return f"{self.starts.year}/{self.ends.year % 100:02}"

    def clean(self) -> None:
        super().clean()
        if not self.starts or not self.ends:
            return
        if self.ends <= self.starts:
            raise ValidationError({"ends": _("The year must end after it starts.")})
        others = self.school.years.exclude(pk=self.pk)
        if others.filter(starts__lte=self.ends, ends__gte=self.starts).exists():
            raise ValidationError(_("These days are within another school year."))


class Closure(models.Model):
    """Days on which the school is closed: holidays and training days, both ends included."""

    school = models.ForeignKey(School, on_delete=models.CASCADE, related_name="closures")
    name = models.CharField(max_length=60)
    first = models.DateField()
    last = models.DateField()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(last__gte=F("first")), name="closure_in_order"),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def days(self) -> str:
        """Say which days these are."""
        return days_in_words(self.first, self.last)

    def clean(self) -> None:
        super().clean()
        if not self.first or not self.last:
            return
        if self.last < self.first:
            raise ValidationError({"last": _("The last day must not be before the first.")})
        if not self.school.years.filter(starts__lte=self.first, ends__gte=self.last).exists():
            raise ValidationError(_("These days are within no school year. Is the year right?"))
        others = self.school.closures.exclude(pk=self.pk)
        if other := others.filter(first__lte=self.last, last__gte=self.first).first():
            words = _("Some of these days are without school already: %(name)s, %(days)s.")
            raise ValidationError(words, params={"name": other.name, "days": other.days})


def days_in_words(first: dt.date, last: dt.date) -> str:
    """Write a day, or a span of days, both ends included.

    The year stands once, at the end.
    """
    until = date_format(last, "l j F Y")
    if first == last:
        return until
    return _g("%(first)s to %(last)s") % {"first": date_format(first, "l j F"), "last": until}


class SchoolClassQuerySet(models.QuerySet["SchoolClass"]):
    """Classes, by what a person may do with them."""

    def taught_by(self, user: Asker) -> Self:
        """Classes whose work *user* sees: own ones; every class of the school for a lead."""
        if not user.is_active:
            return self.none()
        posts = StaffPost.objects.current().filter(user=user)
        own = posts.filter(role__in=[StaffPost.Role.TEACHER, StaffPost.Role.ASSISTANT])
        led = posts.filter(role=StaffPost.Role.LEAD)
        return self.filter(
            Q(pk__in=own.values("classes__pk")) | Q(year__school__in=led.values("school"))
        )

    def staffed_by(self, user: Asker) -> Self:
        """Classes *user* has a post in; a lead's others are not among them."""
        if not user.is_active:
            return self.none()
        own = StaffPost.objects.current().filter(
            user=user, role__in=[StaffPost.Role.TEACHER, StaffPost.Role.ASSISTANT]
        )
        return self.filter(pk__in=own.values("classes__pk"))

    def run_by(self, user: Asker) -> Self:
        """Classes that *user* plans and judges for: a teacher's own; all of them for a lead."""
        if not user.is_active:
            return self.none()
        posts = StaffPost.objects.current().filter(user=user)
        own = posts.filter(role=StaffPost.Role.TEACHER)
        led = posts.filter(role=StaffPost.Role.LEAD)
        return self.filter(
            Q(pk__in=own.values("classes__pk")) | Q(year__school__in=led.values("school"))
        )

    def kept_by(self, user: Asker) -> Self:
        """Classes whose roster *user* keeps: all of the school for its office and its leads."""
        if not user.is_active:
            return self.none()
        keepers = [StaffPost.Role.LEAD, StaffPost.Role.OFFICE]
        posts = StaffPost.objects.current().filter(user=user, role__in=keepers)
        return self.filter(year__school__in=posts.values("school"))

    def visible_to(self, user: Asker) -> Self:
        """Classes *user* may know of: those taught, and those on a roster kept."""
        classes = self.model.objects
        return self.filter(
            Q(pk__in=classes.taught_by(user).values("pk"))
            | Q(pk__in=classes.kept_by(user).values("pk"))
        )


class SchoolClass(models.Model):
    """A class in one school year."""

    year = models.ForeignKey(SchoolYear, on_delete=models.PROTECT, related_name="classes")
    name = models.CharField(max_length=40)

    objects = SchoolClassQuerySet.as_manager()

    class Meta:
        ordering = ["-year__starts", "name"]
        constraints = [
            models.UniqueConstraint(fields=["year", "name"], name="class_name_once_a_year"),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def school(self) -> School:
        """Return the school of this class."""
        return self.year.school


class Group(models.Model):
    """Some children of a class who get easier or harder work than the rest."""

    class Depth(models.TextChoices):
        SUPPORT = "with support", _("easier")
        CORE = "core", _("usual")
        CHALLENGE = "challenge", _("harder")

    school_class = models.ForeignKey(SchoolClass, on_delete=models.CASCADE, related_name="groups")
    name = models.CharField(max_length=40)
    depth = models.CharField(max_length=12, choices=Depth, default=Depth.CORE)
    children = models.ManyToManyField("people.Child", related_name="groups", blank=True)

    class Meta:
        ordering = ["name"]
        constraints = [
            models.UniqueConstraint(
                fields=["school_class", "name"], name="group_name_once_a_class"
            ),
        ]

    def __str__(self) -> str:
        return self.name


class StaffPostQuerySet(OutgoingQuerySet["StaffPost"]):
    """Posts held now or before."""

    pauses = PAUSES

    def active(self) -> Self:
        """Posts not ended, whether their holder has ever come in or not."""
        return self.filter(ended_at=None)

    def current(self) -> Self:
        """Posts that let their holder do something: not ended, and at an address that is proved."""
        return self.active().filter(user__email_confirmed_at__isnull=False)

    def led_by(self, user: Asker) -> Self:
        """Posts at the schools that *user* leads."""
        if not user.is_active:
            return self.none()
        led = self.model.objects.current().filter(user=user, role=StaffPost.Role.LEAD)
        return self.filter(school__in=led.values("school"))

    def unsent(self) -> Self:
        """Current ones whose holder waits for the mail with which to set a password."""
        return super().unsent().active().filter(link_wanted_at__isnull=False)

    def note_sent(self, row: "StaffPost") -> None:
        """Note that the link of *row* is out, and wanted no more."""
        self.held(row).update(link_wanted_at=None)
        super().note_sent(row)


class StaffPost(Outgoing):
    """What a person does at a school. A leaver's post is ended, not deleted."""

    class Role(models.TextChoices):
        TEACHER = "teacher", _("teacher")
        ASSISTANT = "assistant", _("assistant")
        LEAD = "lead", _("lead")
        OFFICE = "office", _("office")

    user = models.ForeignKey("people.User", on_delete=models.CASCADE, related_name="posts")
    school = models.ForeignKey(School, on_delete=models.CASCADE, related_name="posts")
    role = models.CharField(max_length=10, choices=Role)
    classes = models.ManyToManyField(SchoolClass, related_name="posts", blank=True)
    began_at = models.DateTimeField(default=timezone.now)
    ended_at = models.DateTimeField(null=True, blank=True)
    # Wanted until the mail is out.
    link_wanted_at = models.DateTimeField(null=True, blank=True)
    # By whoever says to be its holder and to have forgotten the password: then it lasts an hour.
    link_by_holder = models.BooleanField(default=False)

    objects = StaffPostQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["user", "school", "role"],
                condition=Q(ended_at=None),
                name="one_post_of_a_kind",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.user} ({self.get_role_display()})"
