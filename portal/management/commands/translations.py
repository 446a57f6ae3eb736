"""Bring the catalogues of family pages up to date, and say what is missing in each language."""

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandParser
from django.utils.module_loading import import_string

from portal.translation.languages import ENGLISH_NAMES


class Command(BaseCommand):
    """Needs the tools of tests/requirements.txt; the portal runs without it."""

    help = "Collect the strings of family pages, and list what each language lacks."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the languages, all by default, and whether to name every missing string."""
        parser.add_argument("languages", nargs="*", choices=[[], *ENGLISH_NAMES])
        parser.add_argument("--missing", action="store_true", help="name every missing string")

    def handle(self, *, languages: list[str], missing: bool, **options: Any) -> None:
        """Write the files and say how far each language is."""
        from portal.translation import catalogues

        for language in languages or list(ENGLISH_NAMES):
            catalogue = catalogues.bring_up_to_date(language)
            lacking = catalogues.missing(catalogue)
            wrong = catalogues.wrong_places(catalogue)
            words = [word for name in settings.WORD_FILES for word in import_string(name)(language)]
            self.stdout.write(
                f"{ENGLISH_NAMES[language]} ({language}): {len(catalogue) - len(lacking)} of "
                f"{len(catalogue)} strings of pages; {len(words)} words of number work missing"
            )
            for text in wrong:
                self.stdout.write(f"  %(names)s differ: {text}")
            if missing:
                for text in [*lacking, *words]:
                    self.stdout.write(f"  missing: {text}")
