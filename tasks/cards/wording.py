"""What a part of a day says to a family before anybody has edited it."""

from dataclasses import dataclass

from django.conf import settings
from django.utils import translation
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from tasks.cards.languages import ENGLISH, base_of, has_words, phrase_in, unlike_page
from tasks.models import Task
from tasks.numberwork import Prompt, kind_kept
from tasks.numberwork.cautions import own_part
from tasks.numberwork.showing.requests import HOW, NUMBER, PHOTO, number_to_put_out, request_of

WHAT_TO_DO = {
    Task.Part.WARM_UP: gettext_lazy("Count out loud together. Clap or step to each number."),
    Task.Part.NUMBER_OF_THE_DAY: gettext_lazy(
        "Show today’s number in as many ways as you can: with fingers, with things, on paper."
    ),
    Task.Part.QUICK_RECALL: gettext_lazy(
        "Ask these one after the other. Say the answer together if it does not come."
    ),
    Task.Part.MAIN_TASK: gettext_lazy(
        "Do these one at a time. Use things you can touch and move, then write the answer."
    ),
    Task.Part.TRY_AT_HOME: gettext_lazy("Find the things at home and try it out."),
}
EXPLAINED = gettext_lazy(
    "Do these one at a time, with things you can touch and move. Each time ask: how do you know? "
    "Can you show it another way?"
)
# Parts whose words fit kinds of this name only; with another kind they are done as the main task.
MADE_FOR = {Task.Part.WARM_UP: "counting", Task.Part.NUMBER_OF_THE_DAY: "number-of-the-day"}
FIELDS = ("words", "fetch", "say", "caution")


@dataclass(frozen=True, slots=True)
class Wording:
    """The words of one part: what to do, to fetch and to say, and the teacher's own caution."""

    words: str
    fetch: str
    say: str
    caution: str


def what_to_do(part: str, kind_name: str) -> str:
    """Say what is done in *part* with a kind, in the language of the page."""
    like = part if kind_name.startswith(MADE_FOR.get(Task.Part(part), "")) else Task.Part.MAIN_TASK
    return str(WHAT_TO_DO[Task.Part(like)])


def usual_wording(part: str, kind_name: str, idea: str = "", *, explains: bool = False) -> Wording:
    """Return what *part* says by default when its prompts are of the kind *kind_name*.

    idea: the one of the kind's things to fetch that it is done with; any of them without.
    explains: the child is asked each time how it knows.
    """
    kind = kind_kept(kind_name)
    return Wording(
        words=str(EXPLAINED) if explains else what_to_do(part, kind_name),
        fetch=idea or _(", or ").join(kind.fetch),
        say=kind.say,
        caution="",
    )


def wording_in(task: Task, language: str) -> tuple[Wording, dict[str, str]]:
    """Return the words of *task* for a reader of *language*, and the language of each field.

    What nobody has edited is said in the reader's language; a teacher's own words stay as the
    teacher wrote them.
    """
    kept = _kept(task)
    if language == ENGLISH or not has_words(language):
        return kept, dict.fromkeys(FIELDS, ENGLISH)
    kind = kind_kept(task.kind)
    with translation.override(settings.LANGUAGE_CODE):
        usual, explained = what_to_do(task.part, task.kind), str(EXPLAINED)
        any_of_them = _(", or ").join(kind.fetch)
    said: dict[str, tuple[str, str]] = {
        "words": (kept.words, ENGLISH),
        "fetch": (kept.fetch, ENGLISH),
        "say": phrase_in(kept.say, language) if kept.say == kind.say else (kept.say, ENGLISH),
        "caution": (kept.caution, ENGLISH),
    }
    if kept.words == usual:
        page = base_of(translation.get_language() or ENGLISH)
        said["words"] = (what_to_do(task.part, task.kind), page)
    if kept.words == explained:
        page = base_of(translation.get_language() or ENGLISH)
        said["words"] = (str(EXPLAINED), page)
    if kept.fetch in kind.fetch:
        said["fetch"] = phrase_in(kept.fetch, language)
    elif kept.fetch and kept.fetch == any_of_them:
        ideas = [phrase_in(idea, language) for idea in kind.fetch]
        said["fetch"] = (_(", or ").join(idea for idea, _lang in ideas), ideas[0][1])
    return (
        Wording(**{field: text for field, (text, _lang) in said.items()}),
        {field: lang for field, (_text, lang) in said.items()},
    )


def _kept(task: Task) -> Wording:
    """Return the words of *task* as they are kept, its caution as far as it is a teacher's own."""
    return Wording(task.words, task.fetch, task.say, own_caution(task))


def own_caution(task: Task) -> str:
    """Return what a teacher wrote as the caution of *task*; that of its things comes apart."""
    return own_part(task.caution)


def edited_words(task: Task) -> str:
    """Return what a teacher wrote of what to do in *task*: "" where it is what parts always say."""
    with translation.override(settings.LANGUAGE_CODE):
        return "" if task.words == what_to_do(task.part, task.kind) else task.words


@dataclass(frozen=True, slots=True)
class ToShow:
    """The one thing a family is asked to show: by which medium, and its words and language."""

    medium: str
    words: str
    lang: str

    @property
    def other_lang(self) -> str:
        """Return the language of its words where it is not that of the page."""
        return unlike_page(self.lang)

    @property
    def icon(self) -> str:
        """Return the name of the picture of its medium."""
        return "camera" if self.medium == PHOTO else self.medium


def to_show(kind_name: str, prompts: list[Prompt], language: str) -> ToShow:
    """Say what a family is asked to show for *prompts* of a kind, to a reader of *language*."""
    number = number_to_put_out(prompts)
    request = request_of(kind_name)
    if NUMBER in request.words and number is None:  # of old prompts that cannot be read
        request = HOW
    words, lang = phrase_in(request.words, language)
    return ToShow(request.medium, words.replace(NUMBER, str(number)), lang)


def say_as_usual(task: Task, idea: str = "") -> None:
    """Put the default words of its part and kind on *task*, without saving it."""
    wording = usual_wording(task.part, task.kind, idea)
    for field in FIELDS:
        setattr(task, field, getattr(wording, field))


def is_as_usual(task: Task) -> bool:
    """Tell whether nobody has edited the words of *task*."""
    said = _kept(task)
    ideas = ("", *kind_kept(task.kind).fetch)
    return said in [
        usual_wording(task.part, task.kind, idea, explains=explains)
        for idea in ideas
        for explains in (False, True)
    ]


def next_idea(task: Task) -> str:
    """Return what to try *task* at home with: another of its kind's ideas each time it comes.

    None of them must be bought. Other parts than that at home go with any of the ideas: "".
    """
    plan, ideas = task.day_plan, kind_kept(task.kind).fetch
    if task.part != Task.Part.TRY_AT_HOME or not ideas:
        return ""
    before = Task.objects.filter(
        day_plan__school_class=plan.school_class_id, part=task.part, kind=task.kind, group=None
    )
    return ideas[before.exclude(day_plan=plan).count() % len(ideas)]
