"""The files of number words kept in step with what number work says."""

import json
from string import Formatter

from tasks.numberwork.family_phrases import family_phrases
from tasks.numberwork.kinds.sharing import SHARED
from tasks.numberwork.kinds.story_problems import STOCK
from tasks.numberwork.pictures import THINGS
from tasks.numberwork.words import ENGLISH
from tasks.numberwork.words.files import FOLDER, read_file
from tasks.numberwork.words.plurals import CATEGORIES

STORY_THINGS = tuple(thing for thing, _place in STOCK)
RIGHT_TO_LEFT = ("ar", "ur")


def empty_file(language: str) -> dict[str, object]:
    """Return what a file of words holds before anybody has filled it."""
    return {
        "language": language,
        "listed": False,
        "checked_by": "",
        "right_to_left": language in RIGHT_TO_LEFT,
        "comma": "، " if language in RIGHT_TO_LEFT else ", ",
        "conjunction": "",
        "quotes": "“”",
        "gap": "",
        "articles": [],
        "same_meaning": {},
        "number_words": {},
        "gendered": {},
        "nouns": {},
        "phrases": {},
        "alts": {},
        "written": {},
        "spoken": {},
    }


def bring_up_to_date(language: str) -> list[str]:
    """Return every entry its place in the file of *language*; name those that have no words yet.

    What is said no more is dropped from it, but for nouns: templates may count more of them.
    """
    path = FOLDER / f"{language}.json"
    data = {**empty_file(language), **(read_file(path) if path.is_file() else {})}
    wanted = {
        "written": ENGLISH.written,
        "spoken": ENGLISH.spoken,
        "alts": ENGLISH.alts,
        "phrases": {phrase: phrase for phrase in family_phrases()},
    }
    lacking = [] if data["gap"] else ["gap"]
    lacking += [] if data["conjunction"] else ["conjunction"]
    for section, english in wanted.items():
        data[section] = {
            key: data[section].get(key) or without_words(template)
            for key, template in english.items()
        }
        lacking += [f"{section}: {key}" for key, text in data[section].items() if not text]
    named = nouns_named(data)
    data["nouns"] = {
        noun: forms for noun, forms in data["nouns"].items() if noun in named or any(forms.values())
    }
    for noun in named:
        forms = data["nouns"].setdefault(noun, {})
        for form in (*CATEGORIES[language], *(("plural",) if noun in STORY_THINGS else ())):
            forms.setdefault(form, "")
        lacking += [f"nouns: {noun}, {form}" for form, text in forms.items() if not text]
    path.write_text(json.dumps(data, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")
    return lacking


def without_words(template: str) -> str:
    """Return a template that has nothing to translate, such as "{0} + 1 = □"; else nothing."""
    said = "".join(text for text, _name, spec, _turn in Formatter().parse(template) if text)
    return "" if any(map(str.isalpha, said)) or _specs(template) else template


def nouns_named(data: dict[str, dict[str, str]]) -> list[str]:
    """List every noun that the templates of a language count, {0:things} as each of them.

    Where a template is not filled yet, those of the English one.
    """
    english = {"written": ENGLISH.written, "spoken": ENGLISH.spoken, "alts": ENGLISH.alts}
    found: dict[str, None] = {}
    for section, templates in english.items():
        for key, template in templates.items():
            things = THINGS if section == "alts" else SHARED if "sharing" in key else STORY_THINGS
            for spec in sorted(_specs(data[section].get(key) or template)):
                found |= dict.fromkeys(spec.replace("things", thing) for thing in things)
    return list(found)


def _specs(template: str) -> set[str]:
    """Return the nouns that the numbers of *template* count."""
    parsed = Formatter().parse(template)
    return {spec for _text, name, spec, _turn in parsed if spec and name != "many"} - {"word"}
