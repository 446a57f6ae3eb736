"""Walls the child process puts around itself before it looks at a stranger's file."""

import contextlib
import ctypes
import os
import platform
import resource
import signal
import struct
import sys
from pathlib import Path

from evidence.media.limits import Allowance, Limits

PR_SET_PDEATHSIG, PR_SET_SECCOMP, PR_SET_NO_NEW_PRIVS = 1, 22, 38
SECCOMP_MODE_FILTER = 2
CLONE_NEWNET = 0x40000000

# Linux syscalls a decoder has no business with, by machine: socket, socketpair, connect, kill,
# execve, execveat, ptrace, process_vm_readv, process_vm_writev, bpf, mount, io_uring_setup.
# io_uring is on the list because it can open sockets without the first three.
FORBIDDEN = {
    "x86_64": (0xC000003E, (41, 53, 42, 62, 59, 322, 101, 310, 311, 321, 165, 425)),
    "aarch64": (0xC00000B7, (198, 199, 203, 129, 221, 281, 117, 270, 271, 280, 40, 425)),
}

LANDLOCK_CREATE, LANDLOCK_ADD, LANDLOCK_RESTRICT = 444, 445, 446
READ = 1 << 2 | 1 << 3  # read a file, list a folder
RUN = 1 << 0  # map a library
ALL_BY_VERSION = {1: (1 << 13) - 1, 2: (1 << 14) - 1, 3: (1 << 15) - 1}


def raise_walls(allowance: Allowance, limits: Limits, work: Path) -> tuple[str, ...]:
    """Limit this process for good, and name the walls that stand.

    Always: memory, processor time, file size, open files, no core dump. Where the kernel has them:
    death with the parent, no network and no other programs (seccomp, an empty network namespace),
    no file but the program's own and *work* (Landlock). Elsewhere the decoders still get an open
    file in place of a path, a fixed format and an environment without secrets.
    """
    set_limits(allowance, limits)
    if not sys.platform.startswith("linux"):
        return ("limits",)
    libc = ctypes.CDLL(None, use_errno=True)
    libc.prctl(PR_SET_PDEATHSIG, signal.SIGKILL, 0, 0, 0)
    libc.prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0)
    raised = {
        "namespace": libc.unshare(CLONE_NEWNET) == 0,
        "files": close_files(libc, work),
        "syscalls": close_syscalls(libc),
    }
    return ("limits", *(name for name, stands in raised.items() if stands))


def set_limits(allowance: Allowance, limits: Limits) -> None:
    """Bound what the kernel lets this process use."""
    cpu = allowance.cpu_seconds
    for name, soft, hard in (
        (resource.RLIMIT_AS, allowance.memory, allowance.memory),
        (resource.RLIMIT_CPU, cpu, cpu + 5),
        (resource.RLIMIT_FSIZE, limits.output_bytes, limits.output_bytes),
        (resource.RLIMIT_NOFILE, limits.open_files, limits.open_files),
        (resource.RLIMIT_CORE, 0, 0),
    ):
        # A system that lacks one of them (macOS: address space) still gets the others.
        with contextlib.suppress(ValueError, OSError):
            resource.setrlimit(name, (soft, hard))


def close_syscalls(libc: ctypes.CDLL) -> bool:
    """Have the kernel answer EPERM to network, process and tracing calls (seccomp filter)."""
    if platform.machine() not in FORBIDDEN:
        return False
    machine, numbers = FORBIDDEN[platform.machine()]
    load, equal, at_least, answer = 0x20, 0x15, 0x35, 0x06
    allow, refuse = 0x7FFF0000, 0x00050000 | 1
    steps = [(load, 0, 0, 4), (equal, 1, 0, machine), (answer, 0, 0, refuse), (load, 0, 0, 0)]
    # Numbers from 0x40000000 are a second door to the same calls on x86.
    steps += [(at_least, 0, 1, 0x40000000), (answer, 0, 0, refuse)]
    for number in numbers:
        steps += [(equal, 0, 1, number), (answer, 0, 0, refuse)]
    steps.append((answer, 0, 0, allow))
    program = ctypes.create_string_buffer(b"".join(struct.pack("HBBI", *step) for step in steps))
    header = struct.pack("H6xQ", len(steps), ctypes.addressof(program))
    return bool(libc.prctl(PR_SET_SECCOMP, SECCOMP_MODE_FILTER, header, 0, 0) == 0)


def close_files(libc: ctypes.CDLL, work: Path) -> bool:
    """Let this process read only Python and its libraries, and write only in *work* (Landlock)."""
    version = libc.syscall(LANDLOCK_CREATE, None, 0, 1)
    if version < 1:
        return False
    handled = ALL_BY_VERSION[min(version, 3)]
    attributes = struct.pack("Q", handled)
    ruleset = libc.syscall(LANDLOCK_CREATE, attributes, len(attributes), 0)
    program = [Path(path) for path in (sys.prefix, sys.base_prefix, "/usr/lib", "/lib", "/lib64")]
    program.append(Path(__file__).parent)
    allowed = [(path, READ | RUN) for path in program] + [(work, handled & ~RUN)]
    for path, rights in allowed:
        if path.is_dir():
            add_rule(libc, ruleset, path, rights)
    return bool(libc.syscall(LANDLOCK_RESTRICT, ruleset, 0) == 0)


def add_rule(libc: ctypes.CDLL, ruleset: int, path: Path, rights: int) -> None:
    """Add to *ruleset* that *rights* hold below *path*."""
    folder = os.open(path, os.O_PATH | os.O_DIRECTORY)
    try:
        libc.syscall(LANDLOCK_ADD, ruleset, 1, struct.pack("=Qi", rights, folder), 0)
    finally:
        os.close(folder)
