"""What the portal needs of the system it runs on."""

import sys


def why_not_for_schools() -> str:
    """Say why real children's work must not be taken in on this system; nothing when it may."""
    if sys.platform == "linux":
        return ""
    return (
        "This system cannot raise the walls round the program that opens what families send: "
        "only Linux can. The demo runs here; run `serve` on Linux."
    )
