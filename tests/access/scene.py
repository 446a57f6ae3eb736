"""One of everything about Aisha and her first home, so that each address has something to open."""

import datetime as dt
import hashlib
from dataclasses import dataclass, field
from typing import Any

from django.urls import URLPattern, URLResolver, get_resolver, reverse
from django.utils import timezone

from assessment.goals.goal_sets import framework_of, load_frameworks
from assessment.goals.own_goal_sets import accept, make_draft, read_file
from assessment.insight.weeks import Week
from assessment.judgements.judgements import periods_of
from assessment.looks.lead_marks import mark_for_lead
from assessment.looks.phrases import keep_phrase
from assessment.models import ContactNote, Goal, Sample, VoiceReply
from assessment.weekly.mails import STOP
from evidence.models import Placement, Submission
from evidence.reminders import sending as reminding
from evidence.storage import store
from portal.data_protection.jobs import make_copy
from portal.data_protection.models import DataExport, DataRequest
from portal.people.models import Closure, Device, Invitation
from portal.people.roster_import.running import start_run
from tasks.models import OwnPrompt
from tasks.numberwork.by_hand.own import own_prompt
from tests.evidence.builders import make_ready_piece, stored
from tests.tasks.builders import drafted, drafted_week, gone_out, send_work
from tests.village import MONDAY, Village

ROLES = (
    *("visitor", "family", "second home", "other family"),
    *("teacher", "assistant", "other teacher", "lead", "office", "foreign lead"),
)
VOICE_OF_PIECE = "assessment:voice-record"
OF_A_DRAFT = ("assessment:goal-set-accept", "assessment:goal-set-throw-away")
OF_A_STATEMENT = (
    *("assessment:goal-statement", "assessment:goal-retire", "assessment:goal-bring-back"),
)


@dataclass
class Scene:
    """The village with a day set, work sent for it by Aisha's first home, and all that follows."""

    village: Village
    arguments: dict[str, Any] = field(default_factory=dict)

    @classmethod
    def build(cls, village: Village | None = None) -> "Scene":
        """Set the scene in the database of the test, in *village* if there is one already."""
        village = village or Village.build()
        load_frameworks()
        plan = gone_out(drafted(village, "main_task", "quick_recall"))
        submission = send_work(village, plan)
        own = own_question_kept(village)
        Submission.objects.filter(pk=submission.pk).update(sent_at=timezone.now())
        piece = make_ready_piece(submission)
        arguments = {
            "class_pk": village.robins.pk,
            "child_pk": village.aisha.pk,
            "home_pk": village.first_home.pk,
            "guardianship_pk": village.aisha.guardianships.get(home=village.first_home).pk,
            "post_pk": village.people["teacher"].posts.get().pk,
            "year_pk": village.robins.year_id,
            "closure_pk": closed(village).pk,
            **of_the_office(village),
            "group_pk": village.bens_group.pk,
            "task_pk": plan.tasks.get(part="quick_recall").pk,
            "sequence_pk": drafted_week(village, first=MONDAY + dt.timedelta(days=7)).pk,
            "part": "main_task",
            "name": "halving",
            "goal_pk": Goal.objects.get(code="ELG-NP-3").pk,
            "date": MONDAY,
            "week": Week(2026, 48),
            "period_pk": periods_of(village.robins)[0].pk,
            "sample_pk": asked_to_look_again(village, submission).pk,
            "used_pk": 1,
            **of_looking(village, submission),
            "sheet": "csv",
            "position": 0,
            "own_pk": own.pk,
            "role": "display",
            "token": submission.token,
            "piece token": piece.token,
            "placement_pk": Placement.objects.create(
                piece=piece, source=submission, target=submission
            ).pk,
            "stop token": STOP.token(village.first_home.pk),
            "reminders token": reminding.STOP.token(village.people["family"].pk),
            **about_data(village, submission),
        }
        return cls(village, arguments)

    def address(self, name: str) -> str:
        """Return the address of the page *name*, about Aisha."""
        needed = routes()[name].pattern.converters
        chosen = {key: self.arguments[self.argument(name, key)] for key in needed}
        return reverse(name, kwargs=chosen)

    @staticmethod
    def argument(name: str, key: str) -> str:
        """Return which of the arguments the *key* of page *name* stands for."""
        if key == "token" and "piece" in name:
            return "piece token"
        if key == "token" and name.startswith("assessment:voice") and name != VOICE_OF_PIECE:
            return "voice token"
        if key == "set_pk" and name in OF_A_DRAFT:
            return "draft pk"
        if key == "goal_pk" and name in OF_A_STATEMENT:
            return "statement pk"
        if key == "token" and name.startswith("privacy:copy"):
            return "copy token"
        if name == "evidence:reminders-stop":
            return "reminders token"
        return "stop token" if name == "assessment:stop-mail" else key


def closed(village: Village) -> Closure:
    """Close the school on a day of the next summer term."""
    day = dt.date(2027, 5, 3)
    return Closure.objects.create(school=village.school, name="Bank holiday", first=day, last=day)


def of_looking(village: Village, submission: Submission) -> dict[str, Any]:
    """Mark *submission*, speak a reply to it, note a call, save a phrase, bring goals in."""
    teacher = village.people["teacher"]
    mark_for_lead(submission, teacher, "See this")
    call = ContactNote.objects.create(child=village.aisha, called_by=teacher, words="Away")
    voice = VoiceReply.objects.create(
        submission=submission,
        spoken_by=teacher,
        state=VoiceReply.State.READY,
        name=stored(b"sound", store.RENDITIONS),
        media_type="audio/mp4",
        sha256=hashlib.sha256(b"sound").hexdigest(),
        size=5,
    )
    table = read_file(b"code,strand,text\nA1,Number,Counts to 10\n", "Our goals")
    own = accept(make_draft(village.school, table))
    return {
        "voice token": voice.token,
        "note_pk": call.pk,
        "phrase_pk": keep_phrase(teacher, "Well counted, {child}").pk,
        "set_pk": own.pk,
        "draft pk": make_draft(village.school, table).pk,
        "statement pk": own.goals.get().pk,
    }


def of_the_office(village: Village) -> dict[str, int]:
    """Make an open invitation to Aisha, a roster file not run yet, and a device of the family's."""
    office, family = village.people["office"], village.people["family"]
    mailed = Invitation.ask_by_mail(village.aisha, village.first_home, "new@example.org", office)
    run = start_run(village.school, office, b"Forename,Class\r\nAisha,Robins\r\n")
    device = Device.objects.create(user=family, session_key=f"of {family.pk}", label="phone")
    return {"invitation_pk": mailed.pk, "run_pk": run.pk, "device_pk": device.pk}


def asked_to_look_again(village: Village, submission: Submission) -> Sample:
    """Ask the teacher for a second look at *submission*."""
    sample = Sample.objects.create(
        school_class=village.robins,
        framework=framework_of(village.robins),
        second=village.people["teacher"],
    )
    sample.pieces.create(submission=submission, position=0, first={})
    return sample


def about_data(village: Village, submission: Submission) -> dict[str, Any]:
    """Make a copy of the family's own things, and something that it asks for."""
    family = village.people["family"]
    copy = DataExport.objects.create(child=village.aisha, home=village.first_home, asked_by=family)
    make_copy(copy.pk)
    wish = DataRequest.ask(village.aisha, DataRequest.What.ASK, family)
    return {"copy token": copy.token, "wish_pk": wish.pk, "work_pk": submission.pk}


def routes() -> dict[str, URLPattern]:
    """Give every URL pattern by its full name. Raises ValueError for one without, or a double."""
    found: dict[str, URLPattern] = {}

    def walk(patterns: list[URLPattern | URLResolver], prefix: str) -> None:
        for pattern in patterns:
            if isinstance(pattern, URLResolver):
                walk(
                    pattern.url_patterns,
                    f"{prefix}{pattern.namespace}:" if pattern.namespace else prefix,
                )
            elif not pattern.name or f"{prefix}{pattern.name}" in found:
                raise ValueError(f"{pattern} needs a name of its own")
            else:
                found[f"{prefix}{pattern.name}"] = pattern

    walk(get_resolver().url_patterns, "")
    return found


def own_question_kept(village: Village) -> OwnPrompt:
    """Let the teacher have a question of her own, kept to use again."""
    typed = {"sentence": "How many socks?", "how": "number", "right": "4"}
    prompt = own_prompt(**typed)
    teacher = village.people["teacher"]
    OwnPrompt.keep(village.school, teacher, prompt, typed)
    return OwnPrompt.objects.get(made_by=teacher)
