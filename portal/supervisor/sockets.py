"""Where the broker that the portal starts itself listens."""

import hashlib
import os
from pathlib import Path

SOCKET_PATH_LIMIT = 100  # bytes; with the closing zero Linux allows 108, macOS 104


def socket_path(data: Path) -> Path:
    """Give where the socket of *data* is: inside it, or in a folder of this user's if too long."""
    inside = data / "redis.sock"
    if len(os.fsencode(inside)) <= SOCKET_PATH_LIMIT:
        return inside
    name = hashlib.sha256(os.fsencode(data)).hexdigest()[:16]
    return Path(f"/tmp/kitchen-counter-{os.getuid()}") / f"{name}.sock"  # noqa: S108 - made private


def make_private(folder: Path) -> None:
    """Make *folder* for this user alone. Raises PermissionError where it is somebody else's."""
    folder.mkdir(mode=0o700, exist_ok=True)
    found = folder.lstat()
    if folder.is_symlink() or found.st_uid != os.getuid() or found.st_mode & 0o077:
        raise PermissionError(f"{folder} is not this user's alone: somebody else may have made it.")
