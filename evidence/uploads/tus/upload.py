"""An upload on its way: who sends what for whom, how far it has got, and what became of it."""

import datetime as dt
import secrets
from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from portal.people.models import Child, Home, User
from tasks.models import DayPlan

LIFE = dt.timedelta(days=3)  # after the last byte


def new_token() -> str:
    """Return a random name of 192 bits: whoever knows it may go on with the upload."""
    return secrets.token_urlsafe(24)


def in_a_while() -> dt.datetime:
    """Return when an upload ends that gets its last byte now."""
    return timezone.now() + LIFE


class UploadQuerySet(models.QuerySet["Upload"]):
    """Uploads, by how they stand."""

    def open(self) -> Self:
        """Uploads that wait for more bytes."""
        return self.filter(state=Upload.State.OPEN, expires_at__gt=timezone.now())

    def expired(self) -> Self:
        """Uploads that nobody went on with in time."""
        return self.filter(state=Upload.State.OPEN, expires_at__lte=timezone.now())

    def of_same(self, home: Home | None, sender: User) -> Self:
        """Uploads of *home*; of what staff send for no home, those of the same sender."""
        return self.filter(home=home) if home else self.filter(home=None, sender=sender)


class Upload(models.Model):
    """One file on its way to become a piece, known by its token alone."""

    class State(models.TextChoices):
        OPEN = "open", _("on its way")
        DONE = "done", _("saved")
        REFUSED = "refused", _("refused")
        ENDED = "ended", _("ended")

    token = models.CharField(max_length=40, unique=True, default=new_token, editable=False)
    file = models.CharField(max_length=40, blank=True, help_text=_("Name of the growing file."))
    sender = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="uploads"
    )
    child = models.ForeignKey(Child, on_delete=models.CASCADE, related_name="uploads")
    home = models.ForeignKey(Home, on_delete=models.CASCADE, null=True, related_name="uploads")
    day_plan = models.ForeignKey(DayPlan, on_delete=models.CASCADE, related_name="uploads")
    form_key = models.CharField(max_length=40)
    adds_to = models.ForeignKey(
        "evidence.Submission", on_delete=models.SET_NULL, null=True, related_name="+"
    )
    # Siblings who did the work together: the file becomes a piece for each.
    also = models.ManyToManyField(Child, related_name="+", blank=True)
    # Of a voice note in which a child says how it knows: the question it was asked.
    prompt = models.ForeignKey(
        "tasks.TaskPrompt", on_delete=models.SET_NULL, null=True, related_name="+"
    )
    by_staff = models.BooleanField(default=False)
    turn = models.PositiveSmallIntegerField(default=0, help_text=_("Degrees, clockwise."))
    metadata = models.CharField(max_length=600, blank=True)
    length = models.PositiveBigIntegerField()
    # Bytes that are on the disk for certain. The last one counts only once the piece is saved.
    offset = models.PositiveBigIntegerField(default=0)
    state = models.CharField(max_length=10, choices=State, default=State.OPEN)
    refusal = models.CharField(max_length=200, blank=True, help_text=_("In words."))
    made_at = models.DateTimeField(default=timezone.now)
    expires_at = models.DateTimeField(default=in_a_while)
    pieces = models.ManyToManyField("evidence.Piece", related_name="uploads", blank=True)

    objects = UploadQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(offset__lte=F("length")), name="no_byte_too_many"),
            models.CheckConstraint(
                condition=Q(turn__in=[0, 90, 180, 270]), name="upload_turn_is_a_quarter"
            ),
            models.CheckConstraint(
                condition=Q(state="open") | Q(file=""), name="only_an_open_upload_has_a_file"
            ),
        ]
        indexes = [
            models.Index(fields=["home", "made_at"], name="upload_of_home"),
            models.Index(fields=["expires_at"], name="upload_by_end"),
        ]

    def __str__(self) -> str:
        return f"upload {self.pk}"

    @property
    def is_open(self) -> bool:
        """Whether more bytes are taken."""
        return self.state == self.State.OPEN and self.expires_at > timezone.now()

    def promise(self, offset: int) -> None:
        """Save that the first *offset* bytes are on the disk for certain."""
        self.offset, self.expires_at = offset, in_a_while()
        Upload.objects.filter(pk=self.pk, state=self.State.OPEN).update(
            offset=offset, expires_at=self.expires_at
        )

    def close(self, state: str, refusal: str = "") -> bool:
        """Take no more bytes. False when it was closed before."""
        self.state, self.refusal, self.file = state, refusal[:200], ""
        closed = Upload.objects.filter(pk=self.pk, state=self.State.OPEN).update(
            state=state, refusal=self.refusal, file=""
        )
        return bool(closed)
