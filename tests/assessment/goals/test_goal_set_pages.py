"""The pages of goals: what is shipped cannot be changed, what is the school's own can."""

import json

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from assessment.goals.goal_sets import choose_framework, default_framework, framework_of
from assessment.models import Framework, Goal
from tests.assessment.builders import goal as early_goal
from tests.assessment.builders import looked, send, set_day
from tests.assessment.goals.test_own_goal_sets import LATER, TABLE, brought_in


def upload(client, content=TABLE, title="Our goals", name="goals.csv"):
    """Bring a file in, and give the page that follows."""
    file = SimpleUploadedFile(name, content)
    return client.post("/goal-sets/bring-in/", {"file": file, "title": title}, follow=True)


def test_a_file_is_shown_as_it_was_read_before_anything_uses_it(signed_in):
    html = upload(signed_in("teacher")).content.decode()
    assert "A draft, as it was read. Nothing uses it yet." in html
    assert "Counts to 10" in html
    assert "Counting how many" in html
    assert "1 has no kind of number work yet" in html
    assert Framework.objects.get(slug="our-goals").draft


def test_a_faulty_file_stores_nothing_and_says_where_it_is_wrong(signed_in):
    faulty = b"code,strand,text\nA1,Number,\n"
    answer = upload(signed_in("teacher"), faulty)
    assert answer.status_code == 422
    assert "row 2, column text: empty" in answer.content.decode()
    answer = upload(signed_in("teacher"), b'{"CFDocument": {}}', name="case.json")
    assert "CFItems: none" in answer.content.decode()
    assert not Framework.objects.exclude(school=None).exists()


def test_a_draft_is_taken_into_use_or_thrown_away(signed_in):
    client = signed_in("lead")
    upload(client)
    draft = Framework.objects.get(draft=True)
    client.post(f"/goal-sets/{draft.pk}/throw-away/")
    assert not Framework.objects.filter(pk=draft.pk).exists()
    upload(client)
    draft = Framework.objects.get(draft=True)
    html = client.post(f"/goal-sets/{draft.pk}/accept/", follow=True).content.decode()
    assert "Taken into use." in html
    assert client.post(f"/goal-sets/{draft.pk}/throw-away/").status_code == 404


@pytest.mark.parametrize("address", ["/classes/{}/goals/choose/", "/goal-sets/"])
def test_who_chooses_goals_is_told_the_edition_and_what_is_from_memory(village, signed_in, address):
    html = signed_in("teacher").get(address.format(village.robins.pk)).content.decode()
    assert html.count("2 statements are from memory, to be confirmed.") == 1
    assert "In force from September 2021; the wording of 2021 to 2024" in html


def test_a_file_for_a_set_that_is_there_says_what_would_change(village, signed_in):
    brought_in(village.school)
    html = upload(signed_in("teacher"), LATER).content.decode()
    assert "New: 1. Reworded or moved: 1. Retired, because they are not in the file: 1." in html


def test_kinds_are_ticked_a_few_statements_at_a_time(village, signed_in):
    rows = "".join(f"B{n},Number,Statement {n}\n" for n in range(10))
    own = brought_in(village.school, f"code,strand,text\n{rows}".encode())
    client, address = signed_in("teacher"), f"/goal-sets/{own.pk}/kinds/"
    shown = [pair[0] for pair in client.get(address).context["form"].rows()]
    assert [goal.code for goal in shown] == [f"B{n}" for n in range(8)]
    ticks = {f"kinds-{shown[1].pk}": ["halving", "doubling"]}
    answer = client.post(address, {"shown": [goal.pk for goal in shown], **ticks})
    rest = client.get(answer.url).context["form"].rows()
    assert [goal.code for goal, _field in rest] == ["B8", "B9"]
    assert own.goals.get(code="B1").kinds == ["halving", "doubling"]
    assert client.get(f"{address}?after=9").url == f"/goal-sets/{own.pk}/"


def test_a_kind_that_does_not_exist_is_refused(village, signed_in):
    own = brought_in(village.school)
    goal = own.goals.get(code="A2")
    data = {"shown": [goal.pk], f"kinds-{goal.pk}": ["knitting"]}
    answer = signed_in("teacher").post(f"/goal-sets/{own.pk}/kinds/", data)
    assert answer.status_code == 422
    goal.refresh_from_db()
    assert goal.kinds == []


def test_a_statement_is_worded_anew_and_retired_and_used_again(village, signed_in):
    own = brought_in(village.school)
    goal = own.goals.get(code="A1")
    client, address = signed_in("teacher"), f"/goal-sets/{own.pk}/statements/{goal.pk}/"
    client.post(address, {"text": "Counts to 12", "strand": "Number"})
    client.post(f"{address}retire/")
    goal.refresh_from_db()
    assert (goal.text, goal.retired_at is None) == ("Counts to 12", False)
    client.post(f"{address}bring-back/")
    goal.refresh_from_db()
    assert goal.retired_at is None


def test_what_is_shipped_cannot_be_changed_by_any_address(village, signed_in):
    shipped = default_framework()
    first = shipped.goals.first()
    before = list(Goal.objects.order_by("pk").values())
    for role in ("teacher", "lead"):
        client = signed_in(role)
        assert client.get(f"/goal-sets/{shipped.pk}/").status_code == 200
        for action in ("accept", "throw-away", "put-away", "bring-back", "kinds"):
            answer = client.post(f"/goal-sets/{shipped.pk}/{action}/", {"shown": [first.pk]})
            assert answer.status_code == 404
        statement = f"/goal-sets/{shipped.pk}/statements/{first.pk}/"
        for action in ("", "retire/", "bring-back/"):
            answer = client.post(statement + action, {"text": "Mine", "strand": "Mine"})
            assert answer.status_code == 404
    assert list(Goal.objects.order_by("pk").values()) == before


def test_a_school_never_sees_the_own_goals_of_another(village, signed_in):
    own = brought_in(village.school)
    client = signed_in("foreign lead")
    assert "Our goals" not in client.get("/goal-sets/").content.decode()
    for page in ("", "case.json", "kinds/"):
        assert client.get(f"/goal-sets/{own.pk}/{page}").status_code == 404


def test_any_set_can_be_taken_away_as_case(village, signed_in):
    own = brought_in(village.school)
    for row in (own, default_framework()):
        answer = signed_in("teacher").get(f"/goal-sets/{row.pk}/case.json")
        package = json.loads(answer.content)
        assert package["CFDocument"]["title"] == row.title
        assert answer["Content-Disposition"].startswith("attachment")


def test_a_set_that_was_put_away_is_offered_no_more_but_kept_by_its_classes(village, signed_in):
    own = brought_in(village.school)
    choose_framework(village.robins, own)
    client = signed_in("teacher")
    client.post(f"/goal-sets/{own.pk}/put-away/")
    html = client.get(f"/classes/{village.robins.pk}/goals/choose/").content.decode()
    assert "Our goals" not in html
    assert framework_of(village.robins) == own
    client.post(f"/goal-sets/{own.pk}/bring-back/")
    html = client.get(f"/classes/{village.robins.pk}/goals/choose/").content.decode()
    assert "Our goals" in html


def test_a_class_chooses_and_that_can_be_undone(village, signed_in):
    own, client = brought_in(village.school), signed_in("teacher")
    address = f"/classes/{village.robins.pk}/goals/choose/"
    before = framework_of(village.robins)
    page = client.post(address, {"framework": own.pk}, follow=True).content.decode()
    assert framework_of(village.robins) == own
    assert f'name="framework" value="{before.pk}"' in page
    client.post(address, {"framework": before.pk})
    assert framework_of(village.robins) == before


@pytest.mark.parametrize("role", ["assistant", "other teacher", "office", "family"])
def test_only_whoever_runs_the_class_chooses_its_goals(village, signed_in, role):
    address = f"/classes/{village.robins.pk}/goals/choose/"
    assert signed_in(role).get(address).status_code == 404


def test_goals_of_another_school_or_a_draft_cannot_be_chosen(village, signed_in):
    strange = brought_in(village.dot.school)
    address = f"/classes/{village.robins.pk}/goals/choose/"
    before = framework_of(village.robins)
    assert signed_in("teacher").post(address, {"framework": strange.pk}).status_code == 422
    assert framework_of(village.robins) == before


def test_after_a_change_old_tags_are_shown_with_the_set_they_are_from(village, signed_in):
    early_goal()
    work = send(village.aisha, village.first_home, set_day(village.robins))
    looked(work, village.people["teacher"], how="with support")
    choose_framework(village.robins, brought_in(village.school))
    html = signed_in("teacher").get(f"/look/{work.token}/").content.decode()
    assert "From the earlier goals:" in html
    assert f"goal-{early_goal().pk}" in html
    page = signed_in("teacher").get(f"/children/{village.aisha.pk}/").content.decode()
    assert f"From the earlier goals: {early_goal().framework.title}" in page
    assert "with support" in page
    fields = {"version": 1, "reply": "Still", f"goal-{early_goal().pk}": "with support"}
    signed_in("teacher").post(f"/look/{work.token}/", fields)
    assert work.tags.get().goal == early_goal()
