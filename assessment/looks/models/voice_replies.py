"""A reply that is spoken: from the recording that arrived to the clean file that is heard."""

import datetime as dt
from typing import Self

from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from evidence.media import RefusalReason, refusal_words
from evidence.models import Submission, new_token
from evidence.submissions.answered import told_up_to
from portal.jobs.lease import Leased, LeasedQuerySet
from portal.people.asking import Asker

# How long a reply that was taken back can be put back; then its file goes.
PUT_BACK_WITHIN = dt.timedelta(days=1)


class VoiceReplyQuerySet(LeasedQuerySet["VoiceReply"]):
    """Spoken replies, by who may hear them and what is left to do on them."""

    def taught_by(self, user: Asker) -> Self:
        """Replies on the work of children that *user* teaches."""
        return self.filter(submission__in=Submission.objects.taught_by(user).active())

    def visible_to(self, user: Asker) -> Self:
        """Replies that *user* may hear: staff any; the home it answers, once it is told of it."""
        own = Submission.objects.from_home_of(user).active()
        at_home = Q(pk__in=self.model.objects.told().filter(submission__in=own).values("pk"))
        taught = Q(pk__in=self.model.objects.taught_by(user).values("pk"))
        return self.active().filter(taught | at_home)

    def told(self) -> Self:
        """Return those that the home of the work hears."""
        work = Submission.objects.answered()
        return self.ready().filter(submission__in=work, spoken_at__lte=told_up_to())

    def active(self) -> Self:
        """Replies that were not taken back."""
        return self.filter(taken_back_at=None)

    def ready(self) -> Self:
        """Standing replies that can be heard."""
        return self.active().filter(state=VoiceReply.State.READY)

    def unfinished(self) -> Self:
        """Return standing replies still to be made ready that nobody is at, oldest first."""
        waiting = self.unleased().active().filter(state=VoiceReply.State.ARRIVED)
        return waiting.order_by("attempts", "spoken_at", "pk")

    def claim(self, pk: int) -> "VoiceReply | None":
        """Take the work on reply *pk*, and return it; None: not there to take."""
        return self.unfinished().take(pk)

    def held(self, row: "VoiceReply") -> Self:
        """Return reply *row* while the claim on it holds, and nothing once taken back."""
        return super().held(row).active().filter(state=VoiceReply.State.ARRIVED)

    def kept_no_longer(self) -> Self:
        """Replies that were taken back too long ago to be put back, or whose work was."""
        since = timezone.now() - PUT_BACK_WITHIN
        return self.filter(Q(taken_back_at__lt=since) | Q(submission__withdrawn_at__lt=since))


class VoiceReply(Leased):
    """What a member of staff says to a child about one submission. One stands at a time.

    `name`, `sha256` and `size` are of the file there is: what arrived, and then the clean one.
    """

    class State(models.TextChoices):
        ARRIVED = "arrived", _("being made ready")
        READY = "ready", _("ready")
        REFUSED = "refused", _("could not be read")

    token = models.CharField(max_length=40, unique=True, default=new_token, editable=False)
    submission = models.ForeignKey(
        Submission, on_delete=models.CASCADE, related_name="voice_replies"
    )
    spoken_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, related_name="+"
    )
    spoken_at = models.DateTimeField(default=timezone.now)
    state = models.CharField(max_length=10, choices=State, default=State.ARRIVED)
    refusal = models.CharField(max_length=40, blank=True)
    name = models.CharField(max_length=80, unique=True, help_text=_("Name in the store."))
    media_type = models.CharField(max_length=40, blank=True)
    sha256 = models.CharField(max_length=64)
    size = models.PositiveBigIntegerField()
    seconds = models.FloatField(null=True)
    taken_back_at = models.DateTimeField(null=True, blank=True)

    objects = VoiceReplyQuerySet.as_manager()

    class Meta:
        ordering = ["submission", "spoken_at", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["submission"],
                condition=Q(taken_back_at=None),
                name="one_voice_reply_a_submission",
            ),
            models.CheckConstraint(
                condition=~Q(state="ready") | ~Q(media_type=""), name="a_ready_voice_has_its_type"
            ),
            models.CheckConstraint(
                condition=Q(state="refused") | Q(refusal=""), name="voice_refusal_has_a_reason"
            ),
        ]
        indexes = [
            models.Index(fields=["leased_until"], condition=Q(state="arrived"), name="voice_to_do"),
        ]

    def __str__(self) -> str:
        return f"voice reply {self.pk}"

    @property
    def can_be_heard(self) -> bool:
        """Whether it is ready and was not taken back."""
        return self.state == self.State.READY and self.taken_back_at is None

    @property
    def is_told(self) -> bool:
        """Whether the home of the work hears it, once that is answered."""
        return self.can_be_heard and self.spoken_at <= told_up_to()

    @property
    def can_be_put_back(self) -> bool:
        """Whether it was taken back, and not too long ago."""
        since = timezone.now() - PUT_BACK_WITHIN
        return self.taken_back_at is not None and self.taken_back_at >= since

    @property
    def refusal_words(self) -> str:
        """Say why it could not be used, in the reader's language."""
        known = self.refusal in list(RefusalReason)
        return gettext(refusal_words(RefusalReason(self.refusal if known else "unreadable")))
