"""Every model of evidence, where Django looks for them."""

from evidence.reminders.choices import PushPlace, Reminder
from evidence.submissions.models import (
    DAMAGED,
    Answer,
    Piece,
    PieceQuerySet,
    Rendition,
    RenditionQuerySet,
    Submission,
    SubmissionQuerySet,
    new_token,
)
from evidence.submissions.nonsubmissions import Nonsubmission
from evidence.submissions.other_children import OthersShown, ShownChild
from evidence.submissions.placements import Placement, PlacementQuerySet
from evidence.uploads.tus.upload import Upload

__all__ = [
    "DAMAGED",
    "Answer",
    "Nonsubmission",
    "OthersShown",
    "Piece",
    "PieceQuerySet",
    "Placement",
    "PlacementQuerySet",
    "PushPlace",
    "Reminder",
    "Rendition",
    "RenditionQuerySet",
    "ShownChild",
    "Submission",
    "SubmissionQuerySet",
    "Upload",
    "new_token",
]
