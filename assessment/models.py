"""What staff make of the work: goals, looks, tags, judgements, and the week rolled up."""

from assessment.models.contacts import ContactNote
from assessment.models.family_words import FamilyWord
from assessment.models.goals import ClassFramework, Framework, Goal
from assessment.models.groups_used import GroupsUsed
from assessment.models.judgements import CannotRewriteError, Judgement, Period
from assessment.models.kept import EvidenceWeighed, MistakesFound
from assessment.models.looks import Look, PastLook, Tag, TagQuerySet
from assessment.models.marks import LeadMark
from assessment.models.phrases import SavedPhrase
from assessment.models.second_looks import Sample, SampledPiece, SecondTag
from assessment.models.voice import VoiceReply
from assessment.models.weeks import SummaryMail, WeekSummary

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
