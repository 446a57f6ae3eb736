"""Two schools of two classes each, with a word planted in every field, and who may read it.

The words are `zqx0001xqz`, `zqx0002xqz`, …: each stands in one field alone, so one that turns up in
an answer says whose thing it is. Who may read what is written here anew, from the table of roles
and not from the querysets that the portal asks.
"""

import hashlib
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from django.db.models import Model
from django.utils import timezone

from assessment.insight.weeks import Week
from assessment.judgements.judgements import periods_of
from assessment.looks.looking import LookData, save_look
from assessment.models import FamilyWord, Framework, Judgement, LeadMark, VoiceReply
from assessment.weekly.summaries import make_summary
from evidence.models import Answer, Submission
from evidence.reminders.choices import PushPlace
from evidence.storage import store
from evidence.submissions.answered import SEEN_BY_FAMILIES_AFTER
from evidence.submissions.nonsubmissions import Nonsubmission
from portal.data_protection.jobs import make_copy
from portal.data_protection.models import DataExport
from portal.people.models import (
    Child,
    Closure,
    Group,
    Guardianship,
    Home,
    Invitation,
    School,
    SchoolClass,
    StaffPost,
    User,
)
from tasks.models import DayPlan, TaskPrompt
from tests.access.scene import Scene
from tests.assessment.builders import a_moment_ago, goal
from tests.evidence.builders import make_ready_piece, stored
from tests.village import MONDAY, Village, make_adult, make_child, make_school, make_staff

# Long enough that no token by chance holds one, in a hundred thousand pages.
WORD = re.compile(r"zqx\d{4}xqz")
NOBODY: frozenset[int] = frozenset()


@dataclass
class Words:
    """The planted words, and for each the keys of the people who may read it."""

    readers: dict[str, frozenset[int]] = field(default_factory=dict)
    places: dict[str, str] = field(default_factory=dict)

    def new(self, place: str, readers: Iterable[int]) -> str:
        """Return a word for *place* that *readers* alone may read."""
        word = f"zqx{len(self.readers):04}xqz"
        self.readers[word], self.places[word] = frozenset(readers), place
        return word

    def not_for(self, user: User | None, found: set[str]) -> list[str]:
        """Return those of the words *found* that *user*, or a visitor, may not read."""
        key = user.pk if user else 0
        return sorted(word for word in found if key not in self.readers[word])


@dataclass
class World:
    """All that the walk goes through: the scenes, one for each class, the people, the words."""

    scenes: list[Scene]
    people: dict[str, User]
    words: Words

    @classmethod
    def build(cls) -> "World":
        """Make everything in the database of the test."""
        words, people = Words(), {}
        pairs = [two_classes(number, people) for number in range(2)]
        for (one, other), (far, _far_too) in zip(pairs, reversed(pairs), strict=True):
            for village in (one, other):
                for role in ("lead", "family"):
                    village.people[f"foreign {role}"] = far.people[role]
        scenes = [Scene.build(village) for pair in pairs for village in pair]
        for pair in pairs:
            plant_school(pair[0].school, pair, words)
        for scene in scenes:
            Planter(scene, words).plant()
        people["nobody any more"] = somebody_gone(scenes[0].village)
        return cls(scenes, people, words)


def two_classes(number: int, people: dict[str, User]) -> tuple[Village, Village]:
    """Make a school of two classes, and each class as a village of its own."""
    school, *classes = make_school(f"School {number}", ["Robins", "Wrens"])
    shared = {
        "lead": make_staff(f"{number}lead", school, StaffPost.Role.LEAD, []),
        "office": make_staff(f"{number}office", school, StaffPost.Role.OFFICE, []),
    }
    villages = [one_class(f"{number}{place}", each) for place, each in enumerate(classes)]
    for own, other in (villages, reversed(villages)):
        own.cal, own.wrens = other.ben, other.robins
        own.people |= {**shared, "other teacher": other.people["teacher"]}
        # A brother in the other class, and so one adult with children in both.
        brother = make_child(other.robins, "Cal", "K")
        Guardianship.objects.create(adult=own.people["family"], child=brother, home=own.first_home)
    for village in villages:
        who = village.robins.pk
        people |= {f"{role} of {who}": user for role, user in village.people.items()}
    return villages[0], villages[1]


def one_class(name: str, school_class: SchoolClass) -> Village:
    """Make two children of *school_class*, the first with two homes, and their adults and staff."""
    school = school_class.school
    aisha, ben = make_child(school_class, "Aisha", "K"), make_child(school_class, "Ben", "T")
    group = Group.objects.create(school_class=school_class, name="Apples", depth="with support")
    group.children.add(ben)
    first, second, bens = (Home.objects.create(school=school) for _home in range(3))
    village = Village(
        school, school_class, school_class, aisha, ben, ben, ben, group, first, second, bens
    )
    village.people = {
        "teacher": make_staff(f"{name}teacher", school, StaffPost.Role.TEACHER, [school_class]),
        "assistant": make_staff(
            f"{name}assistant", school, StaffPost.Role.ASSISTANT, [school_class]
        ),
        "family": make_adult(f"{name}family", first, [aisha]),
        "second home": make_adult(f"{name}second", second, [aisha]),
        "other family": make_adult(f"{name}bens", bens, [ben]),
    }
    return village


def somebody_gone(village: Village) -> User:
    """Make somebody who taught the class and was at home with its child, and is neither now."""
    gone = make_adult("gone", village.second_home, [village.aisha])
    gone.guardianships.update(ended_at=MONDAY.isoformat() + "T08:00Z")
    post = StaffPost.objects.create(
        user=gone, school=village.school, role="lead", ended_at=MONDAY.isoformat() + "T08:00Z"
    )
    post.classes.add(village.robins)
    return gone


def keys(*users: User) -> set[int]:
    """Return the keys of *users*."""
    return {user.pk for user in users}


def plant_school(school: School, pair: tuple[Village, Village], words: Words) -> None:
    """Write a word into what is of the whole school, and into its people's names."""
    offices = keys(pair[0].people["lead"], pair[0].people["office"])
    roles = ("teacher", "assistant", "family", "second home", "other family")
    staff = offices | {each.people[role].pk for each in pair for role in roles[:2]}
    everybody = staff | {each.people[role].pk for each in pair for role in roles[2:]}
    texts = ("name", "safeguarding_lead_name", "safeguarding_lead_phone", "privacy_contact")
    for text in texts:
        write(school, words, everybody, text)
    closure = Closure.objects.create(school=school, name="x", first="2026-12-21", last="2027-01-01")
    write(closure, words, everybody, "name")
    for user in {each.people[role] for each in pair for role in (*roles, "lead", "office")}:
        works = user.pk in staff
        # Families read who answered them; of another adult at home they read nothing.
        write(
            user, words, (everybody if works else offices | class_staff(user)) | {user.pk}, "name"
        )
        user.email = f"{words.new('people.User.email', offices | {user.pk})}@example.org"
        user.password = words.new("people.User.password", NOBODY)
        user.save()


def class_staff(adult: User) -> set[int]:
    """Give who teaches a child of *adult*: they read which home it is that they post work for."""
    classes = {tie.child.school_class_id for tie in adult.guardianships.all()}
    return set(StaffPost.objects.filter(classes__in=classes).values_list("user", flat=True))


def write(row: Model, words: Words, readers: Iterable[int], *names: str) -> None:
    """Put a word of its own into each of the fields *names* of *row*."""
    for name in names:
        setattr(row, name, words.new(f"{row._meta.label}.{name}", readers))
    row.save(update_fields=names)


class Planter:
    """Writes the words of one class, and of what was sent and said there."""

    def __init__(self, scene: Scene, words: Words) -> None:
        self.scene, self.words = scene, words
        village = self.village = scene.village
        people = village.people
        self.staff = keys(people["teacher"], people["assistant"], people["lead"])
        self.run = keys(people["teacher"], people["lead"])
        self.offices = keys(people["lead"], people["office"])
        self.of_school = self.staff | self.offices | keys(people["other teacher"])
        self.of_school |= {post.user_id for post in village.school.posts.all()}

    def plant(self) -> None:
        """Write everything."""
        self.children()
        self.class_and_days()
        for submission in self.works():
            self.work(submission)
        self.staff_words()
        self.office_words()
        self.pages_of_the_week()
        self.copies()

    def at_home(self, child: Child, home: Home | None = None) -> set[int]:
        """Return the adults at home with *child*, in *home* alone if it is given."""
        ties = child.guardianships.filter(ended_at=None)
        return {tie.adult_id for tie in ties if home is None or tie.home_id == home.pk}

    def children(self) -> None:
        """Name the children, and mark what tells that two rows of the office are one child."""
        for child in self.village.robins.children.all():
            known_to = self.at_home(child) | self.staff | self.offices
            write(child, self.words, known_to, "first_name")
            write(child, self.words, NOBODY, "office_key")
            for home in child.homes.filter(address_key=""):
                write(home, self.words, NOBODY, "address_key")
        for name in ("aisha", "ben"):
            getattr(self.village, name).refresh_from_db()

    def class_and_days(self) -> None:
        """Write into the class, its group, and what is set for it."""
        robins = self.village.robins
        families = set().union(*(self.at_home(child) for child in robins.children.all()))
        write(robins, self.words, families | self.of_school, "name")
        write(self.village.bens_group, self.words, self.staff, "name")
        for plan in DayPlan.objects.filter(school_class=robins):
            seen_by = self.staff | (families if plan.goes_out_at else set())
            write(plan, self.words, seen_by, "note")
            for task in plan.tasks.all():
                write(task, self.words, seen_by, "words", "fetch", "say", "caution")

    def works(self) -> Iterator[Submission]:
        """Yield what the scene has of each home, more from the others, one of them looked at."""
        village = self.village
        first = Submission.objects.get(token=self.scene.arguments["token"])
        yield first
        could_not = Nonsubmission.objects.create(
            child=village.aisha, home=village.second_home, day_plan=first.day_plan
        )
        readers = self.at_home(village.aisha, village.second_home) | self.staff
        write(could_not, self.words, readers, "reason")
        for child, home, role in (
            (village.aisha, village.second_home, "second home"),
            (village.ben, village.bens_home, "other family"),
        ):
            yield Submission.objects.create(
                child=child, home=home, day_plan=first.day_plan, sent_by=village.people[role]
            )

    def work(self, submission: Submission) -> None:
        """Write into what a home sent, and into what the staff answer."""
        words = self.words
        home = self.at_home(submission.child, submission.home)
        write(submission, words, home | self.staff, "note")
        write(submission, words, NOBODY, "form_key")
        prompts = TaskPrompt.objects.filter(task__day_plan=submission.day_plan, task__group=None)
        answer = Answer.objects.create(submission=submission, prompt=prompts.first(), text="")
        write(answer, words, home | self.staff, "text")
        picture = words.new("a picture", home | self.staff)
        make_ready_piece(submission, b"\xff\xd8\xff\xe0 " + picture.encode(), position=5)
        spoken = words.new("a spoken reply", home | self.staff).encode()
        if submission.home != self.village.first_home:
            self.say(submission, home | self.staff)
        VoiceReply.objects.filter(submission=submission).delete()
        voice = VoiceReply.objects.create(
            submission=submission,
            spoken_by=self.village.people["teacher"],
            spoken_at=timezone.now() - SEEN_BY_FAMILIES_AFTER,
            state=VoiceReply.State.READY,
            name=stored(spoken, store.RENDITIONS),
            media_type="audio/mp4",
            sha256=hashlib.sha256(spoken).hexdigest(),
            size=len(spoken),
        )
        if submission.home == self.village.first_home:
            self.scene.arguments["voice token"] = voice.token

    def say(self, submission: Submission, readers: set[int]) -> None:
        """Look at the work twice, so that there is an earlier answer as well."""
        new = self.words.new
        for version, place, may in ((0, "assessment.PastLook", self.staff),
                                    (1, "assessment.Look", readers)):  # fmt: skip
            saying = LookData(
                new(f"{place}.reply", may), new(f"{place}.next_step", may), {goal().pk: "not yet"}
            )
            with a_moment_ago():
                save_look(submission, self.village.people["teacher"], saying, seen_version=version)
        mark, _made = LeadMark.objects.get_or_create(submission=submission)
        write(mark, self.words, self.staff, "words")

    def staff_words(self) -> None:
        """Write into what staff note of the child, of the class and for themselves."""
        aisha, robins = self.village.aisha, self.village.robins
        teacher = self.village.people["teacher"]
        for note in aisha.contact_notes.all():
            write(note, self.words, self.staff, "words")
        for phrase in teacher.saved_phrases.all():
            write(phrase, self.words, keys(teacher), "text")
        for own in teacher.own_prompts.all():
            write(own, self.words, keys(teacher), "sentence")
        period = periods_of(robins)[0]
        judgement = Judgement(
            child=aisha,
            period=period,
            framework=goal().framework,
            unit="Number",
            version=1,
            by=teacher,
        )
        judgement.level = self.words.new("assessment.Judgement.level", self.run)
        judgement.note = self.words.new("assessment.Judgement.note", self.run)
        judgement.save()
        for mark in LeadMark.objects.filter(submission__child=aisha):
            write(mark, self.words, self.staff, "words")
        for own in ("set_pk", "draft pk"):
            self.own_goals(self.scene.arguments[own])

    def own_goals(self, pk: int) -> None:
        """Write into the goals that the school has brought in."""
        for own in Framework.objects.filter(pk=pk):  # A school has one draft: the last.
            write(own, self.words, self.of_school, "title", "publisher")
            for each in own.goals.all():
                write(each, self.words, self.of_school, "text", "strand", "why", "note")

    def office_words(self) -> None:
        """Write into what the office keeps, and what each family knows of its own devices."""
        words = self.words
        invitation = Invitation.objects.get(pk=self.scene.arguments["invitation_pk"])
        invitation.email = f"{words.new('people.Invitation.email', self.offices)}@example.org"
        invitation.save(update_fields=["email"])
        for run in self.village.school.roster_runs.filter(state="draft"):
            row = words.new("people.RosterRun.content", self.offices)
            run.content = b"Forename,Class\r\n" + row.encode() + b",Robins\r\n"
            run.save(update_fields=["content"])
        family = self.village.people["family"]
        word = words.new("evidence.PushPlace.endpoint", NOBODY)
        PushPlace.keep(family, f"https://push.example/{word}")
        for device in family.devices.all():
            write(device, words, [device.user_id], "label")

    def pages_of_the_week(self) -> None:
        """Write the words of the week to families, and roll the week up."""
        aisha, robins = self.village.aisha, self.village.robins
        word = FamilyWord.objects.create(
            school_class=robins, week=MONDAY, child=aisha, text="x", by=self.village.people["lead"]
        )
        write(word, self.words, self.staff | self.at_home(aisha), "text")
        make_summary(robins.pk, Week(2026, 48))

    def copies(self) -> None:
        """Make a copy of what the first home sent, now that its words are written."""
        family = self.village.people["family"]
        copy = DataExport.objects.create(
            child=self.village.aisha, home=self.village.first_home, asked_by=family
        )
        make_copy(copy.pk)
        self.scene.arguments["copy token"] = DataExport.objects.get(pk=copy.pk).token
