"""How static files are named when the portal is run: by what is in them."""

from whitenoise.storage import CompressedManifestStaticFilesStorage

OURS = ("portal/js", "tasks", "evidence", "assessment")
# Our scripts name each other in this way only. Those of other makers stay as they are.
IMPORT = (r"""(?P<matched>from "(?P<url>\./[\w-]+\.js)")""", 'from "%(url)s"')


class NamedByContent(CompressedManifestStaticFilesStorage):
    """Give each file the name of its content, and scripts the names of those they import."""

    patterns = (
        *CompressedManifestStaticFilesStorage.patterns,
        *((f"{folder}/*.js", (IMPORT,)) for folder in OURS),
    )
