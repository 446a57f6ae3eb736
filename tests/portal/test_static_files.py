"""Static files as they are served: each under the name of its content, and found there."""

import re
from pathlib import Path

import pytest
from django.core.management import call_command

NAMED = re.compile(r"(?:from|import) *\(?[\"'](\./[^\"']+)[\"']")


@pytest.fixture
def collected(settings, tmp_path) -> Path:
    settings.STATIC_ROOT = tmp_path
    staticfiles = {"BACKEND": "portal.static_files.NamedByContent"}
    settings.STORAGES = {**settings.STORAGES, "staticfiles": staticfiles}
    settings.WHITENOISE_KEEP_ONLY_HASHED_FILES = True
    call_command("collectstatic", interactive=False, verbosity=0)
    return tmp_path


def test_every_script_that_a_script_names_is_there_and_kept_for_good(collected):
    named = [
        (script, script.parent / name)
        for script in collected.rglob("*.js")
        if "vendor" not in script.parts
        for name in NAMED.findall(script.read_text())
    ]
    assert len(named) > 5
    for script, path in named:
        assert path.resolve().is_file(), (script.name, path.name)
        assert re.search(r"\.[0-9a-f]{12}\.js$", path.name), (script.name, path.name)
