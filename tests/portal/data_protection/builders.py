"""A child about whom there is one of everything, in the village."""

import datetime as dt
import hashlib
import json
from dataclasses import dataclass
from typing import Any

from django.contrib.sessions.models import Session
from django.utils import timezone

from assessment.models import (
    ContactNote,
    FamilyWord,
    GroupsUsed,
    Judgement,
    LeadMark,
    Look,
    PastLook,
    Period,
    Sample,
    SampledPiece,
    SecondTag,
    Tag,
    VoiceReply,
    WeekSummary,
)
from evidence.models import Answer, Piece, Submission
from evidence.reminders.choices import PushPlace
from evidence.storage import partial_files, store
from evidence.submissions import other_children
from evidence.submissions.answered import SEEN_BY_FAMILIES_AFTER
from evidence.submissions.nonsubmissions import Nonsubmission
from evidence.uploads.tus.upload import Upload
from portal.data_protection.data_export import files
from portal.data_protection.models import DataExport, DataRequest
from portal.people.models import (
    AddressNotice,
    Consent,
    Device,
    Event,
    Guardianship,
    Invitation,
    Purpose,
    RosterRun,
    SignInCode,
)
from tasks.models import TaskPrompt
from tests.assessment.builders import goal
from tests.evidence.builders import make_arrived_piece, make_plan, make_ready_piece, stored
from tests.village import MONDAY, Village


@dataclass
class Life:
    """What was made for one child; `word(name)` is planted in each place that holds words."""

    village: Village
    submission: Submission
    piece: Piece
    words: dict[str, str]


def plant(village: Village, words: dict[str, str]) -> Life:
    """Return Aisha one of everything; *words* are filled with a text of its own for each place."""
    return Planter(village, words).plant()


class Planter:
    """Makes the rows and files, and writes into each a word that is nowhere else."""

    def __init__(self, village: Village, words: dict[str, str]) -> None:
        self.village, self.words = village, words

    def word(self, place: str) -> str:
        """Return the word of *place*: letters and digits that nothing else holds."""
        return self.words.setdefault(place, f"zq{len(self.words):02}xkv{len(place):02}jw")

    def raw(self, place: str) -> bytes:
        """Return the word of *place* as the content of a file."""
        return b"\xff\xd8\xff\xe0" + self.word(place).encode() * 3

    def plant(self) -> Life:
        """Make everything."""
        village = self.village
        village.aisha.first_name = self.word("child.first_name")
        village.aisha.initial = "Q"
        village.aisha.office_key = self.word("child.office_key")
        village.aisha.save()
        submission = self.work()
        piece = self.pieces(submission)
        self.looks(submission)
        self.staff_words(submission)
        self.people()
        return Life(village, submission, piece, self.words)

    def work(self) -> Submission:
        """Make work with a note and answers."""
        village = self.village
        plan = make_plan(village.robins, prompts=10)
        submission = Submission.objects.create(
            child=village.aisha,
            home=village.first_home,
            day_plan=plan,
            sent_by=village.people["family"],
            note=self.word("submission.note"),
            form_key=self.word("submission.form_key"),
        )
        for number, prompt in enumerate(plan.tasks.get().prompts.all()):
            text = self.word(f"answer.text {number}")
            Answer.objects.create(submission=submission, prompt=prompt, text=text)
        gone = Submission.objects.create(
            child=village.aisha,
            home=village.second_home,
            day_plan=plan,
            note=self.word("submission.note taken back"),
            withdrawn_at=timezone.now(),
        )
        prompt = plan.tasks.get().prompts.first()
        Answer.objects.create(submission=gone, prompt=prompt, text=self.word("answer taken back"))
        Nonsubmission.objects.create(
            child=village.aisha,
            home=village.second_home,
            day_plan=plan,
            reason=self.word("could_not.reason"),
        )
        return submission

    def pieces(self, submission: Submission) -> Piece:
        """Make pieces in every state, each with files, and one on its way."""
        village = self.village
        piece = make_ready_piece(submission, self.raw("rendition display"))
        make_ready_piece(
            submission, self.raw("rendition clip"), "clip", "video/mp4", "clip", position=1
        )
        voice = self.raw("rendition sound")
        said = make_ready_piece(submission, voice, "sound", "audio/mp4", "voice", position=4)
        prompt = TaskPrompt.objects.filter(task__day_plan=submission.day_plan).first()
        Piece.objects.filter(pk=said.pk).update(prompt=prompt)
        arrived = make_arrived_piece(submission, self.raw("original arrived"), position=2)
        refused = make_arrived_piece(submission, self.raw("original refused"), position=3)
        Piece.objects.filter(pk=refused.pk).update(state="refused", refusal="unreadable")
        place = store.folder("work") / f"{arrived.pk}-1"
        place.mkdir()
        (place / "half").write_bytes(self.raw("work folder"))
        other_children.name_children(
            piece, [village.ben], strangers=False, by=village.people["teacher"]
        )
        name = partial_files.begin()
        partial_files.path_of(name).write_bytes(self.raw("partial upload"))
        Upload.objects.create(
            file=name,
            sender=village.people["family"],
            child=village.aisha,
            home=village.first_home,
            **self.upload_fields(submission),
        )
        return piece

    def upload_fields(self, submission: Submission) -> dict[str, Any]:
        """Return what else an upload on its way holds."""
        return {
            "day_plan": submission.day_plan,
            "form_key": self.word("upload.form_key"),
            "refusal": self.word("upload.refusal"),
            "metadata": f"filename {self.word('upload.metadata')}",
            "length": 1000,
        }

    def looks(self, submission: Submission) -> None:
        """Make what staff said and noted on the work."""
        village, teacher = self.village, self.village.people["teacher"]
        look = Look.objects.create(
            submission=submission,
            looked_by=teacher,
            looked_at=timezone.now() - SEEN_BY_FAMILIES_AFTER,
            reply=self.word("look.reply"),
            next_step=self.word("look.next_step"),
        )
        Submission.objects.filter(pk=submission.pk).update(looked_at=look.looked_at)
        PastLook.objects.create(
            look=look,
            version=1,
            looked_at=look.looked_at,
            stood=True,
            reply=self.word("past_look.reply"),
            next_step=self.word("past_look.next_step"),
            tags=[self.word("past_look.tags")],
        )
        Tag.objects.create(submission=submission, goal=goal(), how=Tag.How.INDEPENDENTLY)
        voice = self.raw("voice reply file")
        VoiceReply.objects.create(
            submission=submission,
            spoken_by=teacher,
            state="ready",
            media_type="audio/mp4",
            name=stored(voice, store.RENDITIONS),
            sha256=sha256(voice),
            size=len(voice),
        )
        sample = Sample.objects.create(
            school_class=village.robins, framework=goal().framework, second=teacher
        )
        sampled = SampledPiece.objects.create(
            sample=sample, submission=submission, position=0, first={"1": self.word("sample.first")}
        )
        SecondTag.objects.create(piece=sampled, goal=goal(), how=Tag.How.NOT_YET)

    def staff_words(self, submission: Submission) -> None:
        """Make what staff wrote about the child."""
        village = self.village
        aisha, lead = village.aisha, village.people["lead"]
        period = Period.objects.create(year=village.robins.year, name="July", ends="2027-07-01")
        Judgement.objects.create(
            child=aisha,
            period=period,
            framework=goal().framework,
            unit="Number",
            version=1,
            level=self.word("judgement.level"),
            note=self.word("judgement.note"),
            by=lead,
        )
        ContactNote.objects.create(child=aisha, words=self.word("contact_note.words"))
        ContactNote.objects.create(child=aisha, words=self.word("contact_note.words again"))
        LeadMark.objects.create(submission=submission, words=self.word("lead_mark.words"))
        FamilyWord.objects.create(
            school_class=village.robins,
            week=MONDAY,
            child=aisha,
            text=self.word("family_word.text"),
        )
        WeekSummary.objects.create(
            audience="family",
            school_class=village.robins,
            child=aisha,
            home=village.second_home,
            week=MONDAY,
            figures={"word": self.word("week_summary.figures")},
        )
        GroupsUsed.objects.create(
            school_class=village.robins, before={"1": [aisha.pk, village.ben.pk]}, made=[]
        )

    def people(self) -> None:
        """Make what is known of the adults at home, and what they answered and asked."""
        village = self.village
        aisha, second = village.aisha, village.people["second home"]
        second.name, second.email = self.word("user.name"), f"{self.word('user.email')}@example.org"
        second.save()
        own = Guardianship.objects.get(adult=second, child=aisha)
        Consent.answer(own, Purpose.DISPLAY, given=True, wording=1)
        DataRequest.ask(aisha, DataRequest.What.ASK, second)
        Device.objects.create(user=second, session_key="s" * 32, label=self.word("device.label"))
        PushPlace.keep(second, f"https://push.example/{self.word('push_place.endpoint')}")
        AddressNotice.objects.create(
            user=second, email=f"{self.word('address_notice.email')}@example.org"
        )
        SignInCode.ask(second, "browser", f"{self.word('sign_in_code.new_email')}@example.org")
        message = json.dumps([["__json_message", 0, 25, self.word("session.message"), ""]])
        for role, key in (("teacher", "t" * 32), ("second home", "s" * 32)):
            held = {"_auth_user_id": str(village.people[role].pk), "_messages": message}
            keep_session(key, held)
        Device.objects.create(user=village.people["teacher"], session_key="t" * 32, label="phone")
        village.second_home.address_key = self.word("home.address_key")
        village.second_home.save()
        address = f"{self.word('invitation.email')}@example.org"
        Invitation.ask_by_mail(aisha, village.second_home, address, village.people["office"])
        RosterRun.objects.create(
            school=village.school,
            content=self.word("roster_run.content").encode(),
            answers={"row": self.word("roster_run.answers")},
        )
        RosterRun.objects.create(
            school=village.school,
            state="applied",
            changes=[
                {"what": "named", "child": aisha.pk,
                 "before": {"name": [self.word("roster_run.changes"), "Q"], "key": ""}},
                {"what": "named", "child": village.ben.pk,
                 "before": {"name": ["Bennie", "T"], "key": ""}},
            ],
        )  # fmt: skip
        copy = DataExport.objects.create(
            child=aisha, asked_by=village.people["lead"], file=files.new_name()
        )
        (files.folder() / copy.file).write_bytes(self.raw("copy file"))
        Event.objects.create(
            school=village.school,
            who=village.people["teacher"].pk,
            role="teacher",
            what="media seen",
            kind="evidence.piece",
            object_id=Piece.objects.filter(submission__child=aisha).first().pk,
        )


def sha256(content: bytes) -> str:
    """Return the SHA-256 of *content*, in hexadecimal."""
    return hashlib.sha256(content).hexdigest()


def keep_session(key: str, held: dict[str, str]) -> None:
    """Store a session that is signed in."""
    Session.objects.create(
        session_key=key,
        session_data=Session.get_session_store_class()().encode(held),
        expire_date=timezone.now() + dt.timedelta(days=1),
    )
