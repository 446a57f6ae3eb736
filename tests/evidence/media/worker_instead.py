"""Programs that stand in for the decoder: they hang, crash, lie, or leave what they like."""

from dataclasses import replace
from pathlib import Path

from evidence.media import LIMITS
from tests.evidence.media.made import ROOT

QUICK = replace(LIMITS, photo=replace(LIMITS.photo, cpu_seconds=1, wall_seconds=2))
WALLS = f"""
import json, os, signal, sys, threading
from pathlib import Path
sys.path.insert(0, {str(ROOT)!r})
from evidence.media.limits import LIMITS
from evidence.media.walls import raise_walls
OWN = None if os.geteuid() else os.stat(".").st_uid
print("{{}}", flush=True)  # the walls that stand, in the first line
"""
LIMITED = "raise_walls(LIMITS.photo.__class__(1, 1 << 30, 1, 2), LIMITS, user=OWN)"


def kept(out: Path) -> list[str]:
    """Name what stands in *out*, hidden things too."""
    return sorted(path.name for path in out.iterdir())
