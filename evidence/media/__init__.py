"""Recognise what families send, decode it in a sandbox and keep a clean copy. Imports no Django."""

from evidence.media.cleaning import clean, rotate
from evidence.media.limits import LIMITS, Allowance, Limits
from evidence.media.outcome import (
    Cleaned,
    CrashedError,
    Kind,
    Output,
    Recognised,
    RefusalReason,
    Refused,
    Role,
    SourceFormat,
    TryLaterError,
)
from evidence.media.recognise import HEAD_BYTES, recognise
from evidence.media.sandbox import raisable
from evidence.media.walls import Walls
from evidence.media.words import refusal_words

__all__ = [
    "HEAD_BYTES",
    "LIMITS",
    "Allowance",
    "Cleaned",
    "CrashedError",
    "Kind",
    "Limits",
    "Output",
    "Recognised",
    "RefusalReason",
    "Refused",
    "Role",
    "SourceFormat",
    "TryLaterError",
    "Walls",
    "clean",
    "raisable",
    "recognise",
    "refusal_words",
    "rotate",
]
