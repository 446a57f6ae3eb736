"""Walls the child process puts around itself before it looks at a stranger's file."""

import contextlib
import os
import resource
import struct
import sys
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from evidence.media import calls, landlock
from evidence.media.apart import die_with_parent
from evidence.media.kernel import libc, why_not
from evidence.media.limits import Allowance, Limits

PR_SET_NO_NEW_PRIVS = 38
CAPABILITIES = struct.pack("II", 0x20080522, 0), bytes(24)  # of this process: none
NOT_HERE = "only Linux has it"


@dataclass(frozen=True, slots=True)
class Walls:
    """Which walls stand round a decoder here, and why not the others.

    reasons: by name of the wall, "" where it stands. limits: memory, processor, sizes. namespaces:
    no other process, no network, nothing outlives it. user: no rights of root. folder: its folder
    is all the file tree there is. files: no file but names made beforehand. calls: the kernel
    answers what a decoder needs and nothing else.
    """

    reasons: Mapping[str, str]

    @property
    def missing(self) -> dict[str, str]:
        """Return the walls that do not stand, and why."""
        return {name: reason for name, reason in self.reasons.items() if reason}

    @property
    def are_enough(self) -> bool:
        """Whether strangers' files may be decoded here: the list of calls is what all rests on.

        Without the others it still lets no signal, process, program or connection through.
        """
        return "calls" in self.reasons and "calls" not in self.missing


def raise_walls(
    allowance: Allowance,
    limits: Limits,
    *,
    names: Iterable[str] = (),
    user: int | None = None,
    unlisted: int = calls.REFUSE,
) -> dict[str, str]:
    """Limit this process for good; give the reasons of `Walls` but for namespaces.

    names: empty files to make in the working directory, which nothing can be added to afterwards.
    user: the number to be in place of root. Import all that is needed first: nothing can be read
    from the disk afterwards but those names and what is open.
    """
    if not sys.platform.startswith("linux"):
        set_limits(allowance, limits)
        make(names)
        return {"limits": "", **dict.fromkeys(("user", "folder", "files", "calls"), NOT_HERE)}
    folder = why_not(libc().chroot(b"."))
    if not folder:
        os.chdir("/")
    reason = change_user(user)
    if user is None or not reason:  # root without them could not write in another's folder
        libc().capset(*CAPABILITIES)
    make(names)
    set_limits(allowance, limits, count_threads=user is not None or not folder)
    die_with_parent()
    libc().prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0)
    return {
        "limits": "",
        "user": reason,
        "folder": folder,
        "files": landlock.close_files(),
        "calls": calls.close_calls(unlisted),
    }


def make(names: Iterable[str]) -> None:
    """Make each of *names* an empty file here."""
    for name in names:
        Path(name).touch(exist_ok=False)


def change_user(user: int | None) -> str:
    """Become *user* for good, without groups; give "" or why this process still has root's rights.

    Who is not root stays who they are.
    """
    if user is not None:
        try:
            os.setgroups([])
            os.setresgid(user, user, user)
            os.setresuid(user, user, user)
        except OSError as error:
            return f"the kernel says: {error.strerror}"
    return "" if os.geteuid() else "no other user could be given its folder"


def set_limits(allowance: Allowance, limits: Limits, *, count_threads: bool = False) -> None:
    """Bound what the kernel lets this process use.

    count_threads: they are counted by user, so only where no other service is the same user.
    """
    cpu = allowance.cpu_seconds
    bounds = [
        (resource.RLIMIT_AS, allowance.memory, allowance.memory),
        (resource.RLIMIT_CPU, cpu, cpu + 1),
        (resource.RLIMIT_FSIZE, limits.output_bytes, limits.output_bytes),
        (resource.RLIMIT_NOFILE, limits.open_files, limits.open_files),
        (resource.RLIMIT_CORE, 0, 0),
    ]
    if count_threads:
        bounds.append((resource.RLIMIT_NPROC, limits.threads, limits.threads))
    for name, soft, hard in bounds:
        # A system that lacks one of them (macOS: address space) still gets the others.
        with contextlib.suppress(ValueError, OSError):
            resource.setrlimit(name, (soft, hard))
