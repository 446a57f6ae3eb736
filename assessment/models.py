"""What staff make of the work: goals, looks, tags, judgements, and the week summed up."""

from assessment.goals.models import ClassFramework, Framework, Goal
from assessment.judgements.models.judgements import CannotRewriteError, Judgement, Period
from assessment.judgements.models.second_looks import Sample, SampledPiece, SecondTag
from assessment.looks.models.lead_marks import LeadMark
from assessment.looks.models.looks import Look, PastLook, Tag, TagQuerySet
from assessment.looks.models.mistake_shares import MistakeShares
from assessment.looks.models.phrases import SavedPhrase
from assessment.looks.models.voice_replies import VoiceReply
from assessment.progress.models.computed import EvidenceWeighed, MistakesFound
from assessment.progress.models.contact_notes import ContactNote
from assessment.progress.models.groups_used import GroupsUsed
from assessment.weekly.models.family_words import FamilyWord
from assessment.weekly.models.summaries import SummaryMail, WeekSummary

__all__ = [
    "CannotRewriteError",
    "ClassFramework",
    "ContactNote",
    "EvidenceWeighed",
    "FamilyWord",
    "Framework",
    "Goal",
    "GroupsUsed",
    "Judgement",
    "LeadMark",
    "Look",
    "MistakeShares",
    "MistakesFound",
    "PastLook",
    "Period",
    "Sample",
    "SampledPiece",
    "SavedPhrase",
    "SecondTag",
    "SummaryMail",
    "Tag",
    "TagQuerySet",
    "VoiceReply",
    "WeekSummary",
]
