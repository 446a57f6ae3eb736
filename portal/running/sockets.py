"""Where the embedded broker listens."""

import hashlib
import tempfile
from pathlib import Path

SOCKET_PATH_LIMIT = 100  # bytes; unix(7) allows 108 with the closing zero


def socket_path(data: Path) -> Path:
    """Give where the socket of *data* is: inside it, or in the temp folder if too long."""
    inside = data / "redis.sock"
    if len(str(inside).encode()) <= SOCKET_PATH_LIMIT:
        return inside
    name = hashlib.sha256(str(data).encode()).hexdigest()[:16]
    return Path(tempfile.gettempdir()) / f"kitchen-counter-{name}.sock"
