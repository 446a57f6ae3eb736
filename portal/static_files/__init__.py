"""How static files are named when the portal is run, and what each carries along."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from whitenoise.storage import CompressedManifestStaticFilesStorage

from portal.static_files import scripts, sheets


class NamedByContent(CompressedManifestStaticFilesStorage):
    """Give each file the name of its content, and let sheets and scripts of ours carry what they
    import: a page waits for each file before it is drawn or can be used."""

    def post_process(
        self, paths: dict[str, Any], dry_run: bool = False, **options: Any
    ) -> Iterator[Any]:
        if not dry_run:
            for kind in (sheets, scripts):
                ours = {name: found for name, found in paths.items() if kind.is_ours(name)}
                read = {name: _text(*found) for name, found in ours.items()}
                for name, text in kind.whole(read).items():
                    Path(self.path(name)).write_text(text, encoding="utf-8")
                    paths[name] = (self, name)
        yield from super().post_process(paths, dry_run, **options)


def _text(storage: Any, name: str) -> str:
    with storage.open(name) as file:
        return str(file.read().decode())
