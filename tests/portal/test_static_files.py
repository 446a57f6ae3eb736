"""Static files as they are served: each under the name of its content, with what it imports."""

import re
from pathlib import Path

import pytest
from django.core.management import call_command

from portal.static_files import scripts


@pytest.fixture
def collected(settings, tmp_path) -> Path:
    settings.STATIC_ROOT = tmp_path
    staticfiles = {"BACKEND": "portal.static_files.NamedByContent"}
    settings.STORAGES = {**settings.STORAGES, "staticfiles": staticfiles}
    settings.WHITENOISE_KEEP_ONLY_HASHED_FILES = True
    call_command("collectstatic", interactive=False, verbosity=0)
    return tmp_path


def test_no_script_of_ours_waits_for_another(collected):
    ours = [path for path in collected.rglob("*.js") if "vendor" not in path.parts]

    assert len(ours) > 30
    for path in ours:
        assert not re.search(r"^(?:import|export) .* from ", path.read_text(), re.MULTILINE), path


def test_what_every_page_wears_is_one_sheet_with_all_it_imports(collected):
    (sheet,) = collected.glob("portal/every-page.*.css")
    worn = sheet.read_text()

    assert "@import" not in worn
    for name in ("vendor/bootstrap/bootstrap-reboot.min", "portal/tokens", "portal/first-steps"):
        (part,) = collected.glob(f"{name}.*.css")
        assert part.read_text().strip() in worn


def test_a_joined_script_does_what_its_modules_do_and_runs_each_once(browser):
    read = {
        "app/log.js": "export const told = [];\nexport function tell(word) { told.push(word); }\n",
        "app/one.js": 'import { tell } from "./log.js";\n\nconst own = "one";\ntell(own);\n',
        "app/two-of.js": 'import * as log from "./log.js";\n\nconst own = "two";\n'
        "export class Two {\n  say() {\n    log.tell(own);\n  }\n}\n",
        "app/page.js": 'import "./one.js";\nimport { told } from "./log.js";\n'
        'import { Two } from "./two-of.js";\n\nconst own = "page";\nnew Two().say();\n'
        'told.push(own);\ndocument.title = told.join(" ");\n',
    }
    page = browser.new_page()
    page.add_script_tag(content=scripts.whole(read)["app/page.js"], type="module")

    assert page.title() == "one two page"


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ('import fold from "./other.js";\n', "cannot be joined"),
        ("export default 4;\n", "cannot be joined"),
        ('import { a } from "./page.js";\n', "import each other"),
    ],
)
def test_what_cannot_be_joined_is_named(line, why):
    read = {
        "app/page.js": f'import {{ b }} from "./other.js";\n{line}',
        "app/other.js": "export const b = 1;\n",
    }
    with pytest.raises(ValueError, match=why):
        scripts.whole(read)
