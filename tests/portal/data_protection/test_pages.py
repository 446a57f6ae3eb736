"""The pages about data: what an adult decides, what a lead sees and does."""

import datetime as dt
import io
import json
import zipfile

import pytest
from django.urls import reverse
from django.utils import timezone
from django.utils.html import escape

from portal.data_protection.consent.wording import CURRENT, WORDINGS
from portal.data_protection.hooks import keeping
from portal.data_protection.jobs import make_copy
from portal.data_protection.models import DataExport, DataRequest, LegalHold, RetentionRule
from portal.data_protection.retention.durations import in_words
from portal.data_protection.retention.purge import rules_of
from portal.people.families.models.consent import consented
from portal.people.models import Child, Consent, Event, Guardianship, Home, Purpose
from tests.evidence.builders import make_ready_piece, make_submission
from tests.portal.people.proof import freshen, prove
from tests.tasks.builders import queries_of
from tests.village import make_adult, make_child

pytestmark = pytest.mark.django_db


@pytest.fixture
def lead(signed_in):
    """Give a lead who has just proved who they are."""
    return freshen(signed_in("lead"))


def say(client, child, answer, purpose="display"):
    """Press one of the two buttons."""
    address = reverse("privacy:consent", args=[child.pk])
    return client.post(address, {"purpose": purpose, "answer": answer}, follow=True)


def test_nothing_is_agreed_to_until_somebody_presses_yes(village, signed_in):
    page = signed_in("family").get("/privacy/").content.decode()
    assert page.count("Until you say yes, it is no.") == 3 * 2  # three purposes, two children


def test_withdrawing_takes_just_as_many_taps_as_giving(village, signed_in):
    family = signed_in("family")
    assert "You said yes on" in say(family, village.aisha, "yes").content.decode()
    assert village.aisha in consented(Purpose.DISPLAY)
    assert "You said no on" in say(family, village.aisha, "no").content.decode()
    assert village.aisha not in consented(Purpose.DISPLAY)
    page = family.get("/privacy/").content.decode()
    assert page.count('value="yes"') == page.count('value="no"') == 6


def test_an_answer_is_kept_with_the_version_of_its_words_and_who_gave_it(village, signed_in):
    say(signed_in("family"), village.aisha, "yes")
    answer = Consent.objects.get()
    assert (answer.wording, answer.recorded_by) == (CURRENT.version, village.people["family"])
    assert answer.home == village.first_home


def test_a_home_does_not_read_what_the_other_home_said(village, signed_in):
    say(signed_in("second home"), village.aisha, "no")
    page = signed_in("family").get("/privacy/").content.decode()
    assert "You said" not in page
    assert "Second-Home" not in page


@pytest.mark.parametrize(
    "told", [{}, {"purpose": "display"}, {"purpose": "teaching", "answer": "yes"},
             {"purpose": "display", "answer": "perhaps"}],
)  # fmt: skip
def test_what_was_not_asked_cannot_be_answered(village, signed_in, told):
    answer = signed_in("family").post(f"/privacy/children/{village.aisha.pk}/consent/", told)
    assert answer.status_code == 400
    assert not Consent.objects.exists()


def test_teaching_is_told_and_not_asked(village, signed_in):
    page = signed_in("family").get("/privacy/").content.decode()
    assert "it does not ask you if it may keep it" in page
    assert 'value="teaching"' not in page


def test_words_that_were_agreed_to_are_never_changed():
    """A changed word needs a new version: what was agreed to must stay readable."""
    assert [wording.version for wording in WORDINGS] == list(range(1, len(WORDINGS) + 1))
    assert {str(words) for words in WORDINGS[0].words.values()} == {
        "The class may look at my child's work together, on the wall or the big screen.",
        "The school may show my child's work to other families.",
        "Staff who do not work in the class may look at pictures that show my child with "
        "others, and at my child's work to learn from it.",
    }


def test_the_family_reads_how_long_things_are_kept_as_the_purge_does_it(village, signed_in):
    RetentionRule.objects.create(school=village.school, kind="work", days=33)
    page = signed_in("family").get("/privacy/").content.decode()
    shown = [rule for rule in rules_of(village.school) if rule.kept.for_families]
    assert len(shown) > 10
    for rule in shown:
        assert escape(str(rule.kept.what)) in page
    assert "33 days" in page


def test_the_lead_reads_the_length_of_every_kind(village, lead):
    page = lead.get("/school/privacy/").content.decode()
    for rule in rules_of(village.school):
        assert escape(str(rule.kept.what)) in page
        assert in_words(rule.length) in page


def test_privacy_is_one_tap_from_any_page_of_a_family_and_answers_one_more(village, signed_in):
    submission = make_submission(village)
    family = signed_in("family")
    for address in (f"/sent/{submission.token}/", "/sent/", "/today/", "/account/"):
        page = family.get(address, follow=True).content.decode()
        assert 'href="/privacy/"' in page
        assert "This page is not watched. If a child is in danger call 999." in page


def test_downloading_everything_makes_a_copy_and_says_how_far_it_is(village, signed_in):
    piece = make_ready_piece(make_submission(village, note="five"))
    prove(village.people["family"])
    family = freshen(signed_in("family"))
    answer = family.post(f"/privacy/children/{village.aisha.pk}/copy/")
    copy = DataExport.objects.get()
    assert answer.url == f"/copies/{copy.token}/"
    assert "data-poll" in family.get(answer.url).content.decode()
    DataExport.objects.update(done=1, most=2)
    assert "1 of 2" in family.get(f"{answer.url}state/").content.decode()
    make_copy(copy.pk)
    ready = family.get(answer.url).content.decode()
    assert "data-poll" not in ready
    file = family.get(f"{answer.url}file/")
    assert file["Content-Disposition"].startswith("attachment")
    assert file["Cache-Control"] == "private, no-store"
    zipped = zipfile.ZipFile(io.BytesIO(b"".join(file.streaming_content)))
    data = json.loads(zipped.read("data.json"))
    assert data["work"][0]["note"] == "five"
    assert data["pieces"][0]["number"] == piece.pk
    told = Event.objects.get(what=Event.What.EXPORTED)
    assert (told.object_id, told.role) == (village.aisha.pk, "family")


def test_asking_twice_for_a_copy_waits_for_the_one_in_the_making(village, signed_in):
    prove(village.people["family"])
    family = freshen(signed_in("family"))
    for _press in range(2):
        family.post(f"/privacy/children/{village.aisha.pk}/copy/")
    assert DataExport.objects.count() == 1


def test_a_home_that_asks_again_at_once_gets_the_same_copy_and_later_a_new_one(village, signed_in):
    prove(village.people["family"])
    family = freshen(signed_in("family"))
    address = f"/privacy/children/{village.aisha.pk}/copy/"
    family.post(address)
    make_copy(DataExport.objects.get().pk)
    family.post(address)
    assert DataExport.objects.count() == 1
    DataExport.objects.update(asked_at=timezone.now() - dt.timedelta(minutes=11))
    family.post(address)
    assert DataExport.objects.count() == 2


def test_a_copy_is_gone_after_a_week_and_its_address_with_it(village, signed_in):
    prove(village.people["family"])
    family = freshen(signed_in("family"))
    family.post(f"/privacy/children/{village.aisha.pk}/copy/")
    make_copy(DataExport.objects.get().pk)
    DataExport.objects.update(asked_at=timezone.now() - dt.timedelta(days=8))
    token = DataExport.objects.get().token
    assert family.get(f"/copies/{token}/").status_code == 404
    assert family.get(f"/copies/{token}/file/").status_code == 404


def test_what_a_family_asks_for_stands_on_the_lead_s_desk_until_it_is_seen_to(
    village, signed_in, lead
):
    for _press in range(2):
        signed_in("family").post(
            f"/privacy/children/{village.aisha.pk}/ask/", {"what": "delete all"}
        )
    wish = DataRequest.objects.get()
    assert "delete all that is kept of a child" in lead.get("/school/privacy/").content.decode()
    lead.post(f"/school/privacy/wishes/{wish.pk}/settle/")
    assert "Nothing is asked for." in lead.get("/school/privacy/").content.decode()
    wish.refresh_from_db()
    assert wish.settled_by == village.people["lead"]


def test_an_answer_on_paper_is_written_down_and_counts(village, lead):
    paper = {"home": village.first_home.pk, "purpose": "display", "given": "yes"}
    lead.post(f"/children/{village.aisha.pk}/privacy/paper/", paper)
    assert village.aisha in consented(Purpose.DISPLAY)
    answer = Consent.objects.get()
    assert (answer.on_paper, answer.adult) == (True, None)
    page = lead.get(f"/children/{village.aisha.pk}/privacy/").content.decode()
    assert "on paper, written down by Lead" in page


def test_a_home_of_another_child_cannot_answer_for_this_one(village, lead):
    paper = {"home": village.bens_home.pk, "purpose": "display", "given": "yes"}
    answer = lead.post(f"/children/{village.aisha.pk}/privacy/paper/", paper)
    assert answer.status_code == 422
    assert not Consent.objects.exists()


def test_a_lead_holds_a_child_and_lets_go_and_it_says_nowhere_why(village, lead):
    address = f"/children/{village.aisha.pk}/privacy/hold/"
    lead.post(address, {"hold": "place"})
    assert LegalHold.objects.active().get().placed_by == village.people["lead"]
    lead.post(address, {"hold": "end"})
    assert not LegalHold.objects.active().exists()
    whats = list(Event.objects.order_by("pk").values_list("what", flat=True))
    assert whats == ["held", "hold ended"]
    assert {field.name for field in LegalHold._meta.fields} == {
        *("id", "child", "work", "placed_by", "placed_at", "ended_by", "ended_at")
    }


def test_erasing_needs_the_name_and_a_fresh_sign_in(village, lead, signed_in):
    address = f"/children/{village.aisha.pk}/privacy/erase/"
    stale = signed_in("lead").post(address, {"name": "Aisha K"})
    assert stale.url == "/sign-in/again/"
    assert lead.post(address, {"name": "Aisha"}).status_code == 422
    assert Child.objects.filter(pk=village.aisha.pk).exists()
    assert "There is no undo" in lead.get(address).content.decode()
    assert lead.post(address, {"name": " aisha  k "}).url == "/school/privacy/"
    assert not Child.objects.filter(pk=village.aisha.pk).exists()
    told = Event.objects.get(what=Event.What.DELETED)
    assert (told.kind, told.object_id) == ("people.child", village.aisha.pk)


def test_a_held_child_is_not_erased_from_the_page(village, lead):
    LegalHold.place(village.aisha, None, village.people["lead"])
    answer = lead.post(f"/children/{village.aisha.pk}/privacy/erase/", {"name": "Aisha K"})
    assert answer.status_code == 422
    assert "End the hold first" in answer.content.decode()


def test_the_whole_copy_is_made_for_a_lead_alone(village, lead):
    answer = lead.post(f"/children/{village.aisha.pk}/privacy/copy/")
    copy = DataExport.objects.get()
    assert copy.home is None
    make_copy(copy.pk)
    assert "The copy is ready" in lead.get(answer.url).content.decode()


def rules(school, **more):
    """Give the form of the rules as it stands, with *more*."""
    days = {f"days_{rule.kept.key.replace(' ', '_')}": rule.length.days
            for rule in rules_of(school) if rule.kept.is_chosen}  # fmt: skip
    names = {"safeguarding_lead_name": "", "safeguarding_lead_phone": "", "privacy_contact": ""}
    return {**names, **days, **more}


def test_a_school_changes_how_long_it_keeps_work_and_the_usual_leaves_no_rule(village, lead):
    form = rules(village.school, days_evidence=730)
    assert lead.post("/school/privacy/rules/", form).status_code == 302
    assert RetentionRule.objects.get().days == 730
    lead.post("/school/privacy/rules/", rules(village.school, days_evidence=365))
    assert not RetentionRule.objects.exists()


@pytest.mark.parametrize("days", [0, -1, 7 * 365 + 1, "soon"])
def test_a_length_that_is_out_of_reason_is_refused(village, lead, days):
    form = rules(village.school, days_evidence=days)
    assert lead.post("/school/privacy/rules/", form).status_code == 422
    assert not RetentionRule.objects.exists()


def test_staff_read_whom_to_go_to_with_a_worry_wherever_they_see_work(village, lead, signed_in):
    form = rules(
        village.school, safeguarding_lead_name="M. Okafor", safeguarding_lead_phone="room 4"
    )
    lead.post("/school/privacy/rules/", form)
    make_submission(village)
    submission = village.aisha.submissions.get()
    for address in (f"/look/{submission.token}/", f"/classes/{village.robins.pk}/look/",
                    f"/children/{village.aisha.pk}/", "/worry/"):  # fmt: skip
        page = signed_in("teacher").get(address).content.decode()
        assert "M. Okafor" in page
        assert "room 4" in page
    page = signed_in("teacher").get("/worry/").content.decode()
    assert "Write nothing of it here" in page
    assert "<form" not in page.split("<main")[1].split("</main")[0]


def test_the_consents_of_a_class_say_what_counts_and_not_who_said_it(village, signed_in):
    say(signed_in("family"), village.aisha, "yes")
    say(signed_in("second home"), village.aisha, "no")
    say(signed_in("other family"), village.ben, "yes")
    page = signed_in("teacher").get(f"/classes/{village.robins.pk}/consents/").content.decode()
    rows = page.split("<tbody")[1].split("<tr")[1:]
    assert [name in row for name, row in zip(("Aisha", "Ben"), rows, strict=True)] == [True, True]
    assert ["yes" in row.replace("no answer yet", "") for row in rows] == [False, True]
    assert "Second-Home" not in page


def test_what_would_go_tonight_is_counted_and_nothing_goes(village, lead):
    page = lead.get("/school/privacy/tonight/").content.decode()
    for kept in keeping():
        assert (escape(str(kept.what)) in page) is (kept.due is not None)


@pytest.mark.parametrize(
    ("role", "address"),
    [
        *(
            ("family", "/privacy/"),
            ("lead", "/school/privacy/"),
            ("lead", "/school/privacy/tonight/"),
        ),
        *(("teacher", "/classes/{robins}/consents/"),),
    ],
)
def test_more_children_make_no_more_queries(village, signed_in, role, address):
    address = address.format(robins=village.robins.pk)
    client = signed_in(role)
    few = queries_of(client, address)
    home = Home.objects.create(school=village.school)
    for number in range(9):
        child = make_child(village.robins, f"Child{number}", "Z")
        tie = Guardianship.objects.create(adult=village.people["family"], child=child, home=home)
        Consent.answer(tie, Purpose.DISPLAY, given=True, wording=1)
        DataRequest.ask(child, DataRequest.What.ASK, village.people["family"])
        LegalHold.place(child, None, village.people["lead"])
        make_adult(f"more{number}", home, [child])
    assert queries_of(client, address) == few


def test_no_page_about_data_asks_another_host(village, signed_in, lead):
    for client, address in ((signed_in("family"), "/privacy/"), (lead, "/school/privacy/")):
        page = client.get(address).content.decode()
        assert "http://" not in page.replace("http://www.w3.org", "")
        assert "https://" not in page
