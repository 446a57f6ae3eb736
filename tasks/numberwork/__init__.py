"""Number work for four- and five-year-olds: prompts, their pictures, and what answers may mean."""

from tasks.numberwork.answers import choice_word, marks, read_answer, read_in_any
from tasks.numberwork.kind import Kind
from tasks.numberwork.kinds import EVERY_KIND, KINDS, kind_kept
from tasks.numberwork.making import how_many, make_prompts
from tasks.numberwork.minutes import minutes
from tasks.numberwork.mistakes.spotting import Finding, labels, spot_mistakes, tell_apart
from tasks.numberwork.prompt import DEPTHS, Answer, Prompt
from tasks.numberwork.sequences.drafting import PartDraft
from tasks.numberwork.sequences.routes import ROUTES, Route, Step
from tasks.numberwork.sequences.sequence import DayDraft, plan_sequence
from tasks.numberwork.stored import prompt_from_json, prompt_kept, prompt_to_json
from tasks.numberwork.words import phrase, speak, write
from tasks.numberwork.words.describing import describe
from tasks.numberwork.words.numbers import number_word

__all__ = [
    "DEPTHS",
    "EVERY_KIND",
    "KINDS",
    "ROUTES",
    "Answer",
    "DayDraft",
    "Finding",
    "Kind",
    "PartDraft",
    "Prompt",
    "Route",
    "Step",
    "choice_word",
    "describe",
    "how_many",
    "kind_kept",
    "labels",
    "make_prompts",
    "marks",
    "minutes",
    "number_word",
    "phrase",
    "plan_sequence",
    "prompt_from_json",
    "prompt_kept",
    "prompt_to_json",
    "read_answer",
    "read_in_any",
    "speak",
    "spot_mistakes",
    "tell_apart",
    "write",
]
