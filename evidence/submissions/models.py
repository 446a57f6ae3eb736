"""What families send: submissions, their pieces and answers. Access rules live here."""

import secrets
from typing import Self

from django.db import models
from django.db.models import F, Prefetch, Q
from django.utils import timezone
from django.utils.translation import gettext, gettext_noop
from django.utils.translation import gettext_lazy as _

from evidence.media import RefusalReason, refusal_words
from evidence.submissions import other_children
from evidence.submissions.answered import Answered, AnsweredQuerySet
from portal.data_protection.models import LegalHold
from portal.jobs.lease import Leased, LeasedQuerySet
from portal.jobs.slots import Weight
from portal.people.asking import Asker
from portal.people.models import Child, Guardianship, Home
from tasks.models import DayPlan, TaskPrompt

DAMAGED = "damaged"  # why a piece that was ready is not shown: our copy is not what it was
DAMAGED_WORDS = gettext_noop(
    "Our copy of it is damaged, so it cannot be shown. Whoever looks after the portal has "
    "been told."
)


def new_token() -> str:
    """Return a random name of 192 bits: nobody guesses it, and it says nothing of anybody."""
    return secrets.token_urlsafe(24)


class SubmissionQuerySet(AnsweredQuerySet["Submission"]):
    """Submissions. Views start from these, never from `all()`."""

    def taught_by(self, user: Asker) -> Self:
        """Submissions *user* may look at: those of children taught."""
        return self.filter(child__in=Child.objects.taught_by(user))

    def from_home_of(self, user: Asker) -> Self:
        """Submissions for a child from the home in which *user* lives with that child."""
        return self.filter(models.Exists(Guardianship.objects.that_let_see(user)))

    def visible_to(self, user: Asker) -> Self:
        """Submissions of children taught, and those from the own home."""
        submissions = self.model.objects
        return self.filter(
            Q(pk__in=submissions.taught_by(user).values("pk"))
            | Q(pk__in=submissions.from_home_of(user).values("pk"))
        )

    def active(self) -> Self:
        """Submissions that were not withdrawn."""
        return self.filter(withdrawn_at=None)

    def open_to_change(self) -> Self:
        """Submissions that the family may still change: not looked at, withdrawn nor held."""
        return self.active().filter(~LegalHold.objects.on_work(), looked_at=None)

    def seems_open(self) -> Self:
        """Submissions that the family may still change, as far as it is told."""
        seen = Q(pk__in=self.model.objects.answered().values("pk"))
        return self.active().filter(~LegalHold.objects.on_work(), ~seen)

    def for_list(self) -> Self:
        """Fetch along what one line of a list of submissions shows."""
        pieces = Prefetch("pieces", Piece.objects.filter(withdrawn_at=None).whole())
        return self.select_related("child", "day_plan").prefetch_related(pieces)

    def whole(self) -> Self:
        """Fetch along everything that a page about one submission shows."""
        answers = Prefetch("answers", Answer.objects.select_related("prompt__task"))
        return self.for_list().prefetch_related(answers)

    def not_yet_looked_at(self) -> Self:
        """Standing submissions that wait for a look, oldest first."""
        return self.active().filter(looked_at=None).order_by("sent_at", "pk")


class Submission(Answered):
    """What one home sent for a child's day: pieces, answers, a note, how much help there was."""

    class Help(models.TextChoices):
        ALONE = "alone", _("all alone")
        A_LITTLE = "a little", _("with a little help")
        TOGETHER = "together", _("we did it together")

    token = models.CharField(max_length=40, unique=True, default=new_token, editable=False)
    child = models.ForeignKey(Child, on_delete=models.CASCADE, related_name="submissions")
    home = models.ForeignKey(Home, on_delete=models.SET_NULL, null=True, related_name="submissions")
    day_plan = models.ForeignKey(DayPlan, on_delete=models.PROTECT, related_name="submissions")
    sent_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, related_name="+"
    )
    sent_at = models.DateTimeField(default=timezone.now)
    note = models.TextField(_("a word to the teacher"), max_length=1000, blank=True)
    help = models.CharField(_("help given"), max_length=10, choices=Help, blank=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True, editable=False)
    # The form that was filled in: sent a second time, it finds what it made the first time.
    form_key = models.CharField(max_length=40, blank=True, editable=False)
    # Posted at school for a family that works on paper; then there may be no home to it.
    by_staff = models.BooleanField(default=False, editable=False)

    objects = SubmissionQuerySet.as_manager()

    class Meta:
        ordering = ["-sent_at", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["home", "form_key"],
                condition=~Q(form_key=""),
                name="one_submission_a_form",
            ),
            models.UniqueConstraint(
                fields=["form_key"],
                condition=Q(home=None) & ~Q(form_key=""),
                name="one_submission_a_form_of_no_home",
            ),
        ]
        indexes = [
            models.Index(fields=["child", "-sent_at"], name="submission_of_child"),
            # SQLite passes a partial index over for one by child alone; this it takes.
            models.Index(
                fields=["child", "withdrawn_at", "looked_at", "sent_at"],
                name="submission_waiting_of_child",
            ),
        ]

    def __str__(self) -> str:
        return f"submission {self.pk}"

    @property
    def can_be_changed(self) -> bool:
        """Whether the family may still replace or withdraw it, as far as it is told."""
        return not self.is_answered and self.withdrawn_at is None

    @property
    def is_empty(self) -> bool:
        """Whether nothing is left in it that somebody could look at."""
        standing = self.pieces.filter(withdrawn_at=None)
        return not (self.note or self.answers.exists() or standing.exists())


class PieceQuerySet(LeasedQuerySet["Piece"]):
    """Pieces, by who may see them and what is left to do on them."""

    def visible_to(self, user: Asker) -> Self:
        """Pieces of submissions *user* may see; see `shown` for those that show other children."""
        open_to = Submission.objects.visible_to(user)
        return self.filter(other_children.opens_for(user), submission__in=open_to)

    def active(self) -> Self:
        """Pieces that were not withdrawn, with their submission or alone."""
        return self.filter(withdrawn_at=None, submission__withdrawn_at=None)

    def whole(self) -> Self:
        """Fetch along everything that showing a piece takes."""
        related = self.select_related("submission__day_plan", "others_shown", "prompt")
        rows = related.annotate(stays=other_children.stays())
        return rows.prefetch_related("renditions").order_by("position", "pk")

    def ready(self) -> Self:
        """Pieces that can be shown: standing, with a clean copy of each."""
        return self.active().filter(state=Piece.State.READY)

    def unfinished(self) -> Self:
        """Return pieces still to be prepared that nobody is at, in order of arrival."""
        waiting = self.unleased().filter(state=Piece.State.ARRIVED, withdrawn_at=None)
        return waiting.order_by("attempts", "arrived_at", "pk")

    def to_turn(self) -> Self:
        """Ready pieces that are not shown the way somebody asked for, and nobody is at it.

        In order of arrival: the usual order reads every submission first, and this is asked every
        few seconds.
        """
        askew = ~Q(turned=F("turn"))
        waiting = self.unleased().filter(askew, state=Piece.State.READY, withdrawn_at=None)
        return waiting.order_by("attempts", "arrived_at", "pk")

    def weighing(self, weight: Weight) -> Self:
        """Return the clips, or all that is no clip."""
        clips = Q(kind=Piece.Kind.CLIP)
        return self.filter(clips if weight == Weight.CLIPS else ~clips)

    def claim(self, pk: int) -> "Piece | None":
        """Take the work of preparing piece *pk*, and give the piece; None: not there to take."""
        return self.unfinished().take(pk)

    def claim_to_turn(self, pk: int) -> "Piece | None":
        """Take the work of turning piece *pk*, and give the piece; None: not there to take."""
        return self.to_turn().take(pk)

    def held(self, row: "Piece") -> Self:
        """Return piece *row* as long as the claim on it stands, and nothing once it is withdrawn.

        What was turned or finished by somebody else meanwhile is held no more.
        """
        as_it_was = {"state": row.state, "turned": row.turned, "withdrawn_at": None}
        return super().held(row).filter(**as_it_was)


class Piece(Leased):
    """One photo, clip, voice note or page, from its arrival to the clean copy that is shown."""

    class Kind(models.TextChoices):
        PHOTO = "photo", _("photo")
        CLIP = "clip", _("clip")
        VOICE = "voice", _("voice note")
        PAGE = "page", _("page")

    class State(models.TextChoices):
        ARRIVED = "arrived", _("being made ready")
        READY = "ready", _("ready")
        REFUSED = "refused", _("could not be read")

    token = models.CharField(max_length=40, unique=True, default=new_token, editable=False)
    submission = models.ForeignKey(Submission, on_delete=models.CASCADE, related_name="pieces")
    # Of a voice note in which a child says how it knows: the question it was asked.
    prompt = models.ForeignKey(TaskPrompt, on_delete=models.SET_NULL, null=True, related_name="+")
    position = models.PositiveSmallIntegerField(default=0)
    kind = models.CharField(max_length=10, choices=Kind)
    turn = models.PositiveSmallIntegerField(default=0, help_text=_("Degrees, clockwise."))
    turned = models.PositiveSmallIntegerField(
        default=0, editable=False, help_text=_("The turn that the clean copies have.")
    )
    state = models.CharField(max_length=10, choices=State, default=State.ARRIVED)
    refusal = models.CharField(max_length=40, blank=True)
    original = models.CharField(max_length=80, blank=True, help_text=_("Name in the store."))
    sha256 = models.CharField(max_length=64)
    size = models.PositiveBigIntegerField()
    arrived_at = models.DateTimeField(default=timezone.now)
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    objects = PieceQuerySet.as_manager()

    class Meta:
        ordering = ["submission", "position", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(turn__in=[0, 90, 180, 270]), name="turn_is_a_quarter"
            ),
            models.CheckConstraint(
                condition=Q(turned__in=[0, 90, 180, 270]), name="turned_is_a_quarter"
            ),
            models.CheckConstraint(
                condition=Q(state="refused") | Q(refusal=""), name="refusal_has_a_reason"
            ),
        ]
        indexes = [
            models.Index(fields=["leased_until"], condition=Q(state="arrived"), name="piece_to_do"),
            # In the order in which they are asked for: PostgreSQL takes `turned <> turn` to be true
            # of nearly all rows, and reads them all unless the order alone makes this one cheaper.
            models.Index(
                fields=["attempts", "arrived_at", "id"],
                condition=~Q(turned=F("turn")) & Q(state="ready"),
                name="piece_to_turn",
            ),
        ]

    def __str__(self) -> str:
        return f"piece {self.pk}"

    @property
    def is_final(self) -> bool:
        """Whether no more work will change what there is to see."""
        return self.state != self.State.ARRIVED

    @property
    def is_how(self) -> bool:
        """Whether a child says in it how it knows, and it can be heard beside the question."""
        heard = self.kind == self.Kind.VOICE and self.state == self.State.READY
        return heard and self.prompt_id is not None

    @property
    def can_be_turned(self) -> bool:
        """Whether there is a picture to turn."""
        return self.state == self.State.READY and self.kind != self.Kind.VOICE

    @property
    def is_being_turned(self) -> bool:
        """Whether it is not yet shown the way somebody asked for."""
        return self.state == self.State.READY and self.turn != self.turned

    @property
    def next_turn(self) -> int:
        """Return the turn that a quarter more makes of what was asked for last."""
        return (self.turn + 90) % 360

    @property
    def refusal_words(self) -> str:
        """Return what to tell the reader of a piece that cannot be shown, in their language."""
        if self.refusal == DAMAGED:
            return gettext(DAMAGED_WORDS)
        known = self.refusal in list(RefusalReason)
        return gettext(refusal_words(RefusalReason(self.refusal if known else "unreadable")))

    @property
    def files(self) -> dict[str, "Rendition"]:
        """Return the first page of each role there is; reads prefetched rows."""
        return {each.role: each for each in reversed(self.renditions.all())}

    @property
    def pages(self) -> list["Rendition"]:
        """Return the display copies: one of a photo, one a page of a PDF, none of a clip."""
        return [each for each in self.renditions.all() if each.role == Rendition.Role.DISPLAY]


class RenditionQuerySet(models.QuerySet["Rendition"]):
    """Renditions: a piece's rules hold for each of its files."""

    def visible_to(self, user: Asker) -> Self:
        """Files of standing, finished pieces that *user* may see."""
        return self.filter(piece__in=Piece.objects.visible_to(user).ready())


class Rendition(models.Model):
    """One clean file made from a piece: the only thing of it that anybody is shown."""

    class Role(models.TextChoices):
        DISPLAY = "display", _("display copy")
        THUMB = "thumb", _("thumbnail")
        CLIP = "clip", _("clip")
        POSTER = "poster", _("poster")
        SOUND = "sound", _("sound")

    piece = models.ForeignKey(Piece, on_delete=models.CASCADE, related_name="renditions")
    role = models.CharField(max_length=10, choices=Role)
    page = models.PositiveSmallIntegerField(default=1)
    name = models.CharField(max_length=80, unique=True, help_text=_("Name in the store."))
    media_type = models.CharField(max_length=40)
    size = models.PositiveBigIntegerField()
    sha256 = models.CharField(max_length=64)
    width = models.PositiveIntegerField(null=True)
    height = models.PositiveIntegerField(null=True)
    seconds = models.FloatField(null=True)
    checked_at = models.DateTimeField(default=timezone.now, editable=False)
    damaged_at = models.DateTimeField(null=True, editable=False)

    objects = RenditionQuerySet.as_manager()

    class Meta:
        ordering = ["piece", "page"]
        constraints = [
            models.UniqueConstraint(fields=["piece", "role", "page"], name="one_rendition_a_role"),
        ]
        indexes = [
            models.Index(fields=["checked_at"], name="rendition_checked"),
            models.Index(
                fields=["checked_at"],
                condition=Q(damaged_at__isnull=False),
                name="rendition_damaged",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.role} of piece {self.piece_id}"


class Answer(models.Model):
    """What was typed for one prompt, just as it was typed."""

    submission = models.ForeignKey(Submission, on_delete=models.CASCADE, related_name="answers")
    prompt = models.ForeignKey(TaskPrompt, on_delete=models.PROTECT, related_name="answers")
    text = models.CharField(max_length=40)
    # As it was said for the part of the day that the prompt is in; empty where nothing was said.
    help = models.CharField(_("help given"), max_length=10, choices=Submission.Help, blank=True)
    # For how many milliseconds its picture was to be seen before it was covered, all looks
    # together; empty where it was not covered.
    glimpse = models.PositiveIntegerField(null=True, blank=True)

    class Meta:
        ordering = ["prompt__task", "prompt__position"]
        constraints = [
            models.UniqueConstraint(fields=["submission", "prompt"], name="one_answer_a_prompt"),
        ]

    def __str__(self) -> str:
        return f"answer {self.pk}"
