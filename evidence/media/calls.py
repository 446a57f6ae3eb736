"""What a decoder may ask of the kernel: a list of what is allowed, and no for everything else.

Each line says what the call is for. They were seen while samples of every format were decoded, with
a little room for other versions of the same libraries; none of them reaches a process, a file or a
machine beyond what is open already. Not here, among 300 others: sockets, signals to others, new
processes and programs, links, folders, owners, modes and times of files, mounts, keys, tracing.
"""

import ctypes
import os
import platform
import signal
import struct
from dataclasses import dataclass
from typing import Literal

from evidence.media.kernel import libc, why_not

PR_SET_NAME, PR_SET_SECCOMP, SECCOMP_MODE_FILTER = 15, 22, 2
MACHINES = {"x86_64": (0, 0xC000003E), "aarch64": (1, 0xC00000B7)}  # column below, AUDIT_ARCH

ALLOW, REFUSE, KILL_PROCESS = 0x7FFF0000, 0x00050000 | 1, 0x80000000  # 1: EPERM
NO_TERMINAL, NO_SUCH_CALL = 0x00050000 | 25, 0x00050000 | 38  # ENOTTY, ENOSYS

CLONE_THREAD, PROT_EXEC, O_TMPFILE = 0x10000, 0x4, 0x400000

# Numbers on x86-64 and on aarch64 (asm/unistd_64.h, asm-generic/unistd.h); None: not there.
ALLOWED: dict[str, tuple[int | None, int | None]] = {
    # Read the source, write the copies: both by descriptors, or by names that the walls of files
    # hold to the folder of this run.
    "read": (0, 63), "write": (1, 64), "readv": (19, 65), "writev": (20, 66),
    "pread64": (17, 67), "pwrite64": (18, 68), "lseek": (8, 62), "ftruncate": (77, 46),
    "openat": (257, 56), "close": (3, 57),
    # Ask how long a file is.
    "fstat": (5, 80), "stat": (4, None), "lstat": (6, None), "newfstatat": (262, 79),
    "statx": (332, 291),
    # Ask where it is: in the one folder there is.
    "getcwd": (79, 17),
    # Memory of its own.
    "brk": (12, 214), "mmap": (9, 222), "mremap": (25, 216), "mprotect": (10, 226),
    "munmap": (11, 215), "madvise": (28, 233),
    # Threads: begin, wait for each other, name themselves, end. No second process.
    "clone": (56, 220), "futex": (202, 98), "set_robust_list": (273, 99), "rseq": (334, 293),
    "sched_yield": (24, 124), "sched_getaffinity": (204, 123), "gettid": (186, 178),
    "getpid": (39, 172), "prctl": (157, 167), "exit": (60, 93), "exit_group": (231, 94),
    # Signals to itself alone; abort() ends a decoder that finds itself broken.
    "rt_sigaction": (13, 134), "rt_sigprocmask": (14, 135), "rt_sigreturn": (15, 139),
    "sigaltstack": (131, 132), "restart_syscall": (219, 128), "tgkill": (234, 131),
    # Clocks, chance, and how large this machine is.
    "nanosleep": (35, 101), "clock_nanosleep": (230, 115), "clock_gettime": (228, 113),
    "clock_getres": (229, 114), "getrandom": (318, 278), "getrusage": (98, 165),
    "sysinfo": (99, 179), "uname": (63, 160),
    # Descriptors: copy one, ask or say whether it is passed on.
    "fcntl": (72, 25),
}  # fmt: skip

# Answered without an error that would stop a decoder: no file is a terminal; threads are begun by
# `clone` then, whose flags can be looked at, as those of `clone3` lie in memory.
ANSWERED = {"ioctl": (16, 29, NO_TERMINAL), "clone3": (435, 435, NO_SUCH_CALL)}


@dataclass(frozen=True, slots=True)
class Rule:
    """What argument *place* (from 0) must be: one of *values*, with all bits of one, or with none.

    The lower 32 bits are looked at: all of what the kernel itself looks at in these calls.
    """

    place: int
    test: Literal["is", "has", "lacks"]
    values: tuple[int, ...]

    def steps(self) -> list[tuple[int, int, int, int]]:
        """Return the filter's steps, which go on behind the last one when the argument passes."""
        found = [(LOAD, 0, 0, 16 + 8 * self.place)]
        if self.test == "is":
            for left, value in zip(range(len(self.values), 0, -1), self.values, strict=True):
                found.append((EQUAL, left, 0, value))
        else:
            has = self.test == "has"
            found.append((ANY_BIT, int(has), int(not has), self.values[0]))
        return [*found, (ANSWER, 0, 0, REFUSE)]


def rules() -> dict[str, tuple[Rule, ...]]:
    """Return the rules for arguments by name of the call."""
    # All code is loaded by now: no more memory may become code.
    no_code = (Rule(2, "lacks", (PROT_EXEC,)),)
    return {
        "clone": (Rule(0, "has", (CLONE_THREAD,)),),
        "prctl": (Rule(0, "is", (PR_SET_NAME,)),),
        # F_DUPFD, F_GETFD, F_SETFD, F_GETFL, F_DUPFD_CLOEXEC: not F_SETOWN, which sends signals.
        "fcntl": (Rule(1, "is", (0, 1, 2, 3, 1030)),),
        "tgkill": (Rule(0, "is", (os.getpid(),)), Rule(2, "is", (signal.SIGABRT,))),
        # A file without a name is bounded by no list of names.
        "openat": (Rule(2, "lacks", (O_TMPFILE,)),),
        "mmap": no_code,
        "mprotect": no_code,
    }


LOAD, EQUAL, AT_LEAST, ANY_BIT, ANSWER = 0x20, 0x15, 0x35, 0x45, 0x06  # linux/bpf_common.h


def close_calls(unlisted: int = REFUSE) -> str:
    """Have the kernel answer every call that is not on the list with *unlisted*, for good.

    Threads of this process that run already are not held. Give "" or why it cannot be done.
    """
    if platform.machine() not in MACHINES:
        return f"there is no list of calls for this kind of machine ({platform.machine()})"
    steps = program(*MACHINES[platform.machine()], unlisted)
    code = ctypes.create_string_buffer(b"".join(struct.pack("HBBI", *step) for step in steps))
    header = struct.pack("H6xQ", len(steps), ctypes.addressof(code))
    return why_not(libc().prctl(PR_SET_SECCOMP, SECCOMP_MODE_FILTER, header, 0, 0))


def program(column: int, architecture: int, unlisted: int) -> list[tuple[int, int, int, int]]:
    """Return the steps of the filter: (code, jump if true, jump if false, value)."""
    steps = [(LOAD, 0, 0, 4), (EQUAL, 1, 0, architecture), (ANSWER, 0, 0, KILL_PROCESS)]
    # Numbers from 0x40000000 are a second door to the same calls on x86.
    steps += [(LOAD, 0, 0, 0), (AT_LEAST, 0, 1, 0x40000000), (ANSWER, 0, 0, KILL_PROCESS)]
    for answered in ANSWERED.values():
        steps += [(EQUAL, 0, 1, answered[column]), (ANSWER, 0, 0, answered[2])]
    ruled = rules()
    for name, numbers in ALLOWED.items():
        number = numbers[column]
        if number is not None:
            # The steps of a rule load its argument over the number, so they all end in an answer.
            body = [step for rule in ruled.get(name, ()) for step in rule.steps()]
            steps += [(EQUAL, 0, len(body) + 1, number), *body, (ANSWER, 0, 0, ALLOW)]
    return [*steps, (ANSWER, 0, 0, unlisted)]
