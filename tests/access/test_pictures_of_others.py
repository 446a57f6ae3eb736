"""No address and no copy gives away a picture that shows a child whose homes have not agreed."""

import zipfile

import pytest
from django.db import transaction
from django.test import Client

from evidence.models import Piece, Rendition
from evidence.submissions import other_children
from portal.data_protection.data_export.writing import write_copy
from portal.data_protection.hooks import Scope
from tests.access.scene import ROLES, Scene, routes
from tests.evidence.builders import make_ready_piece

pytestmark = [pytest.mark.django_db, pytest.mark.servers]
FREE = {"family", "teacher", "assistant"}
SECRET = b"\xff\xd8\xff\xe0 the picture that shows Ben "


@pytest.fixture(scope="module")
def scene(django_db_setup, django_db_blocker):
    """Set the scene once, its piece a picture of Aisha and Ben with a file in every role."""
    with django_db_blocker.unblock(), transaction.atomic():
        scene = Scene.build()
        piece = Piece.objects.get(token=scene.arguments["piece token"])
        piece.renditions.all().delete()
        for role in Rendition.Role.values:
            filled = make_ready_piece(piece.submission, SECRET + role.encode(), role)
            filled.renditions.filter(role=role).update(piece=piece)
            filled.delete()
        other_children.name_children(
            piece, [scene.village.ben], strangers=False, by=scene.village.people["teacher"]
        )
        yield scene
        transaction.set_rollback(True)


def content_of(response) -> bytes:
    """Return all that an answer holds, however it is sent."""
    if response.streaming:
        return b"".join(response.streaming_content)
    return response.content


def reached_by(scene: Scene, name: str) -> set[str]:
    """Return the roles whom the page *name* gives the picture's bytes."""
    reached = set()
    for role in ROLES:
        client = Client(raise_request_exception=False)
        with transaction.atomic():
            if role != "visitor":
                client.force_login(scene.village.people[role])
            if SECRET in content_of(client.get(scene.address(name))):
                reached.add(role)
            transaction.set_rollback(True)
    return reached


@pytest.mark.parametrize("name", sorted(set(routes()) - {"evidence:piece"}))
def test_no_page_holds_the_picture(scene, name):
    assert reached_by(scene, name) == set()


@pytest.mark.parametrize("file_role", Rendition.Role.values)
def test_the_one_address_of_files_gives_it_to_home_and_class_alone(scene, file_role):
    scene.arguments["role"] = file_role
    assert reached_by(scene, "evidence:piece") == FREE


@pytest.mark.parametrize("file_role", Rendition.Role.values)
def test_a_range_or_another_method_gives_no_byte_more(scene, file_role):
    scene.arguments["role"] = file_role
    for role in set(ROLES) - FREE - {"visitor"}:
        client = Client()
        with transaction.atomic():
            client.force_login(scene.village.people[role])
            for method, headers in (("GET", {"HTTP_RANGE": "bytes=0-3"}), ("HEAD", {})):
                answer = client.generic(method, scene.address("evidence:piece"), **headers)
                assert answer.status_code == 404
            transaction.set_rollback(True)


@pytest.mark.parametrize("home", [None, "first_home", "second_home"])
def test_of_all_copies_only_that_of_the_home_that_sent_it_holds_it(scene, tmp_path, home):
    target = tmp_path / "copy.zip"
    write_copy(Scope(scene.village.aisha, home and getattr(scene.village, home)), target)
    zipped = zipfile.ZipFile(target)
    found = any(SECRET in zipped.read(name) for name in zipped.namelist())
    assert found is (home == "first_home")
