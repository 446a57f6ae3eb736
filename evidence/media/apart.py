"""Live apart from all other processes: seen by none, seeing none, and gone together."""

import os
import resource
import signal
import sys

from evidence.media.kernel import libc, why_not

PR_SET_PDEATHSIG = 1
CLONE_NEWIPC, CLONE_NEWUSER, CLONE_NEWPID, CLONE_NEWNET = 0x8000000, 1 << 28, 1 << 29, 1 << 30


def move_apart(cpu_seconds: int) -> str:
    """Go on as the first process of namespaces of our own; give "" or why it cannot be done.

    Where it can, whatever this process starts can neither outlive it nor see another process, a
    network or shared memory. The process that called waits outside and ends as this one ends. Call
    it before any thread is begun. cpu_seconds: the limit of processor time that will be set.
    """
    if not sys.platform.startswith("linux"):
        return "only Linux has namespaces"
    die_with_parent()
    flags = CLONE_NEWPID | CLONE_NEWNET | CLONE_NEWIPC
    if os.geteuid() != 0:
        flags |= CLONE_NEWUSER
    if refused := why_not(libc().unshare(flags)):
        return refused
    inside = os.fork()
    if inside:
        end_as(inside, cpu_seconds)
    return ""


def die_with_parent() -> None:
    """Have the kernel end this process with the one that started it; a change of user undoes it."""
    libc().prctl(PR_SET_PDEATHSIG, signal.SIGKILL, 0, 0, 0)


def end_as(inside: int, cpu_seconds: int) -> None:
    """Wait for process *inside*, and end as it did."""
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    _, status, used = os.wait4(inside, 0)
    if os.WIFEXITED(status):
        os._exit(os.WEXITSTATUS(status))
    number = os.WTERMSIG(status)
    if number == signal.SIGKILL:
        # The first process of a namespace takes no SIGXCPU; it is killed by the harder limit.
        if used.ru_utime + used.ru_stime >= cpu_seconds:
            number = signal.SIGXCPU
    else:
        signal.signal(number, signal.SIG_DFL)
    os.kill(os.getpid(), number)
    os._exit(1)
