"""What a decoder that a file has taken over might try, and a program that tries each of them.

Run as a script: every probe in a process of its own, behind the walls or without them, as root's
decoder or a plain user's. It prints what each came to: {name: {"said": ..., "harm": [...]}}.
"""

# The calls themselves are what is tried, each in its barest form.
# ruff: noqa: PTH101, PTH102, PTH104, PTH108, PTH116, PTH123, PTH208, PTH211, S103, S606, SIM115, T201

import ctypes
import errno
import fcntl
import json
import mmap
import os
import platform
import resource
import shutil
import signal
import socket
import stat
import struct
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parents[3]))

from evidence.media.apart import move_apart
from evidence.media.calls import ALLOW, REFUSE, close_calls
from evidence.media.kernel import libc
from evidence.media.limits import LIMITS
from evidence.media.walls import PR_SET_NO_NEW_PRIVS, raise_walls

ROOT = os.geteuid() == 0
PLAIN, DECODER = 64_123, 60_600  # users that nobody is here
NAMES = ("display.jpg", "thumb.jpg")
EPERM, EACCES, ENOENT = errno.EPERM, errno.EACCES, errno.ENOENT
COLUMN = {"x86_64": 0, "aarch64": 1}.get(platform.machine(), 0)
NUMBERS = {
    "tgkill": (234, 131), "tkill": (200, 130), "rt_sigqueueinfo": (129, 138),
    "ioprio_set": (251, 30), "ptrace": (101, 117), "process_vm_readv": (310, 270),
    "clone": (56, 220), "clone3": (435, 435), "unshare": (272, 97), "mount": (165, 40),
    "bpf": (321, 280), "io_uring_setup": (425, 425), "userfaultfd": (323, 282),
    "perf_event_open": (298, 241), "add_key": (248, 217), "keyctl": (250, 219),
    "shmget": (29, 194), "inotify_init1": (294, 26), "personality": (135, 92),
    "syslog": (103, 116), "fchmodat2": (452, 452), "prctl": (157, 167), "setxattrat": (463, 463),
    "getpid_x32": (0x40000000 | 39, 0x40000000 | 172), "vfork": (58, 220), "pidfd_open": (434, 434),
}  # fmt: skip


@dataclass
class World:
    """What a probe may try to harm."""

    victim: int
    outside: Path
    pipe: tuple[int, int] = field(default_factory=os.pipe)

    @property
    def file(self) -> str:
        """Return the path of a file that is not the decoder's."""
        return str(self.outside / "file")


def ask(call: str, *arguments: object) -> int:
    """Make *call* by its number. Raises OSError."""
    answer = libc().syscall(ctypes.c_long(NUMBERS[call][COLUMN]), *arguments)
    if answer < 0:
        raise OSError(ctypes.get_errno(), call)
    return answer


def text(words: str) -> ctypes.Array[ctypes.c_char]:
    """Return *words* as C does."""
    return ctypes.create_string_buffer(words.encode())


def owned_pipe(world: World) -> None:
    """Have the kernel send a signal to the victim when something is in a pipe of ours."""
    read, write = world.pipe
    fcntl.fcntl(read, fcntl.F_SETOWN, world.victim)
    fcntl.fcntl(read, 10, signal.SIGUSR1)  # F_SETSIG
    fcntl.fcntl(read, fcntl.F_SETFL, os.O_ASYNC)
    os.write(write, b"x")


def run_from_memory(_: World) -> None:
    """Make a program in memory and become it."""
    handle = os.memfd_create("program")
    with open("/bin/true", "rb") as program:
        os.sendfile(handle, program.fileno(), 0, 1 << 24)
    os.execve(handle, ["true"], {})


def fork(_: World) -> None:
    """Start another process; to wait for it would be a call that is refused for itself."""
    if os.fork() == 0:
        os._exit(0)


def clone_process(call: str, *arguments: object) -> None:
    """Start another process by the call itself, in its plainest form."""
    if ask(call, *arguments) == 0:
        os._exit(0)


def many_threads(_: World) -> None:
    """Begin more threads than any decoder needs."""
    stop = threading.Event()
    threading.stack_size(64 * 1024)
    try:
        for _number in range(300):
            threading.Thread(target=stop.wait, daemon=True).start()
    except RuntimeError as error:
        raise OSError(errno.EAGAIN, str(error)) from error
    finally:
        stop.set()


def look_elsewhere(world: World) -> None:
    """Ask how long a file outside is."""
    os.stat(world.file)


def another_root(_: World) -> None:
    """Begin to climb out of the folder that is all there is."""
    os.chroot(".")


def write_much(_: World) -> None:
    """Write more than a clean copy may have."""
    with open(NAMES[0], "r+b") as file:
        for _number in range(300):
            file.write(bytes(1_000_000))


def code_in(protection: int, then: int | None = None) -> None:
    """Set memory aside with *protection*, and change that."""
    address = libc().mmap
    address.restype = ctypes.c_void_p
    place = address(None, 4096, protection, mmap.MAP_PRIVATE | mmap.MAP_ANONYMOUS, -1, 0)
    if place in (None, ctypes.c_void_p(-1).value):
        raise OSError(ctypes.get_errno(), "mmap")
    if then is not None and libc().mprotect(ctypes.c_void_p(place), 4096, then) < 0:
        raise OSError(ctypes.get_errno(), "mprotect")


RW, RX = mmap.PROT_READ | mmap.PROT_WRITE, mmap.PROT_READ | mmap.PROT_EXEC
USER = signal.SIGUSR1
SIGINFO = struct.pack("iii", USER, 0, -1) + bytes(116)
VMAREA = struct.pack("QQ", 0, 0)

Probe = Callable[[World], object]
SIGNALS: dict[str, Probe] = {
    "kill": lambda w: os.kill(w.victim, USER),
    "tgkill": lambda w: ask("tgkill", w.victim, w.victim, signal.SIGABRT),
    "tkill": lambda w: ask("tkill", w.victim, USER),
    "rt_sigqueueinfo": lambda w: ask("rt_sigqueueinfo", w.victim, USER, SIGINFO),
    "pidfd_send_signal": lambda w: signal.pidfd_send_signal(os.pidfd_open(w.victim), USER),
    "a signal by the owner of a pipe": owned_pipe,
    "tgkill to itself, other than to abort": lambda _: ask(
        "tgkill", os.getpid(), threading.get_native_id(), 0
    ),
}
OTHERS: dict[str, Probe] = {
    "the limits of another": lambda w: resource.prlimit(w.victim, resource.RLIMIT_NOFILE, (9, 9)),
    "the turn of another": lambda w: os.setpriority(os.PRIO_PROCESS, w.victim, 19),
    "the cores of another": lambda w: os.sched_setaffinity(w.victim, {0}),
    "the disk turn of another": lambda w: ask("ioprio_set", 1, w.victim, 3 << 13),
    "tracing another": lambda w: ask("ptrace", 16, w.victim, 0, 0),
    "reading another's memory": lambda w: ask(
        "process_vm_readv", w.victim, VMAREA, 1, VMAREA, 1, 0
    ),
}
OUTSIDE: dict[str, Probe] = {
    "chmod": lambda w: os.chmod(w.file, 0o666),
    "fchmodat2": lambda w: ask("fchmodat2", -100, text(w.file), 0o666, 0),
    "chown": lambda w: os.chown(w.file, 1, 1),
    "utime": lambda w: os.utime(w.file, (1, 1)),
    "setxattr": lambda w: os.setxattr(w.file, "user.x", b"x"),
    "truncate": lambda w: os.truncate(w.file, 0),
    "unlink": lambda w: os.unlink(w.file),
    "rename": lambda w: os.rename(w.file, w.file + "2"),
    "link": lambda w: os.link(w.file, "linked"),
    "chmod of the source": lambda _: os.fchmod(0, 0o666),
    "utime of the source": lambda _: os.utime(0, (1, 1)),
    "setxattr of the source": lambda _: os.setxattr(0, "user.x", b"x"),
    "flock of the source": lambda _: fcntl.flock(0, fcntl.LOCK_EX | fcntl.LOCK_NB),
}
OPENING: dict[str, Probe] = {
    "reading": lambda w: open(w.file, "rb").read(),
    "writing": lambda w: open(w.file, "r+b").write(b"x"),
    "listing": lambda w: os.listdir(w.outside),
    "making": lambda w: open(w.file + "2", "wb"),
    "the accounts of the machine": lambda _: open("/etc/passwd").read(),
    "the libraries of the project": lambda _: open(ctypes.__file__).read(),
    "the source for writing": lambda _: open("/proc/self/fd/0", "r+b"),
    "a new file": lambda _: open("new", "wb"),
}
INSIDE: dict[str, Probe] = {
    "a file without a name": lambda _: os.open(".", os.O_TMPFILE | os.O_RDWR, 0o600),
    "a device": lambda _: os.mknod("d", stat.S_IFCHR | 0o600, os.makedev(1, 5)),
    "a pipe": lambda _: os.mkfifo("p"),
    "a folder": lambda _: os.mkdir("f"),
    "a symlink": lambda _: os.symlink("/", "s"),
    "removing": lambda _: os.unlink(NAMES[0]),
    "renaming": lambda _: os.rename(NAMES[0], "other"),
    "the mode of its own": lambda _: os.chmod(NAMES[0], 0o4777),
}
KERNEL: dict[str, Probe] = {
    "a connection": lambda _: socket.socket(socket.AF_INET, socket.SOCK_STREAM),
    "a local service": lambda _: socket.socket(socket.AF_UNIX, socket.SOCK_STREAM),
    "netlink": lambda _: socket.socket(socket.AF_NETLINK, socket.SOCK_RAW),
    "a pair of sockets": lambda _: socket.socketpair(),
    "another program": lambda _: os.execv("/bin/true", ["true"]),
    "a program from memory": run_from_memory,
    "a process": fork,
    "clone without threads": lambda _: clone_process("clone", signal.SIGCHLD, 0, 0, 0, 0),
    "namespaces": lambda _: ask("unshare", 1 << 28),
    "mount": lambda _: ask("mount", text("none"), text(NAMES[0] + ".d"), text("tmpfs"), 0, None),
    "another root": another_root,
    "another folder": lambda _: os.chdir("/"),
    "bpf": lambda _: ask("bpf", 0, struct.pack("IIII", 2, 4, 4, 1) + bytes(104), 120),
    "io_uring_setup": lambda _: ask("io_uring_setup", 4, ctypes.create_string_buffer(120)),
    "userfaultfd": lambda _: ask("userfaultfd", 0),
    "perf_event_open": lambda _: ask(
        "perf_event_open", struct.pack("IIQ", 1, 128, 0) + bytes(112), 0, -1, -1, 0
    ),
    "add_key": lambda _: ask("add_key", text("user"), text("k"), text("v"), 1, -2),
    "keyctl": lambda _: ask("keyctl", 0, -3, 1),
    "shared memory": lambda _: ask("shmget", 0, 4096, 0o1600),
    "inotify": lambda _: ask("inotify_init1", 0),
    "personality": lambda _: ask("personality", 0xFFFFFFFF),
    "the kernel's log": lambda _: ask("syslog", 10, None, 0),
    "how full the disk is": lambda _: os.statvfs("."),
    "memory as a file": lambda _: os.memfd_create("m"),
    "other settings of its own": lambda _: ask("prctl", 3, 0, 0, 0, 0),
    "memory that is code": lambda _: code_in(RX),
    "memory that becomes code": lambda _: code_in(RW, RX),
}
OTHERWISE: dict[str, tuple[Probe, int]] = {
    "clone3": (
        lambda _: clone_process("clone3", struct.pack("8Q", 0, 0, 0, 0, 17, 0, 0, 0), 64),
        errno.ENOSYS,
    ),
    "ioctl": (lambda w: fcntl.ioctl(w.pipe[0], 0x541B, bytes(4)), errno.ENOTTY),  # FIONREAD
    "memory": (lambda _: mmap.mmap(-1, 2 << 30), errno.ENOMEM),
    "threads": (many_threads, errno.EAGAIN),
    "a large file": (write_much, errno.EFBIG),
    "many open files": (lambda _: [open(NAMES[0]) for _ in range(70)].clear(), errno.EMFILE),
}
# A plain user can be given a root of its own, and have its threads counted, only there. The others
# are tried without: the walls must hold where it cannot be had.
APART = {many_threads, look_elsewhere, another_root}
# Each with what the kernel must say. Where two walls stand in the way, either may be the first.
PROBES: dict[str, tuple[Probe, tuple[int, ...]]] = {
    **{n: (p, (EPERM,)) for g in (SIGNALS, OTHERS, OUTSIDE, INSIDE, KERNEL) for n, p in g.items()},
    "how long a file outside is": (look_elsewhere, (ENOENT,)),
    **{name: (probe, (EACCES, ENOENT)) for name, probe in OPENING.items()},
    **{name: (probe, (number,)) for name, (probe, number) in OTHERWISE.items()},
}


def try_out(probe: Probe, world: World, work: Path, who: str, walls: str) -> str:
    """Try *probe* in a process of its own; give "reached", "errno 1", "signal 31" or what broke."""
    read, write = os.pipe()
    if (child := os.fork()) == 0:
        try:
            os.write(write, attempt(probe, world, work, who, walls).encode())
        finally:
            os._exit(0)
    os.close(write)
    _, status = os.waitpid(child, 0)
    with os.fdopen(read) as said:
        words = said.read()
    if os.WIFSIGNALED(status):
        return f"signal {os.WTERMSIG(status)}"
    return words or "reached"  # it became another program


def attempt(probe: Probe, world: World, work: Path, who: str, walls: str) -> str:
    """Try *probe* in this process, for good behind its walls."""
    os.chdir(work)
    if who == "plain" and ROOT:
        os.setgroups([])
        os.setresgid(PLAIN, PLAIN, PLAIN)
        os.setresuid(PLAIN, PLAIN, PLAIN)
    if walls == "list alone":
        for name in NAMES:
            Path(name).touch()
        libc().prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0)
        if close_calls():
            return "no list"
    elif walls != "open":
        user = DECODER if who == "root" else None
        if probe in APART and move_apart(9):
            return "no namespaces"
        unlisted = ALLOW if walls == "list off" else REFUSE
        raised = raise_walls(LIMITS.photo, LIMITS, names=NAMES, user=user, unlisted=unlisted)
        if raised["calls"] or raised["files"]:
            return f"no walls: {raised}"
    else:
        for name in NAMES:
            Path(name).touch()
            Path(f"{name}.d").mkdir()
    try:
        probe(world)
    except OSError as error:
        return f"errno {error.errno}"
    except BaseException as error:
        return f"not tested: {error!r}"
    return "reached"


def seen(world: World, work: Path, source: Path) -> dict[str, object]:
    """Describe all that a probe might have harmed."""
    files = [source, *sorted(world.outside.iterdir())]
    victim = Path(f"/proc/{world.victim}")
    return {
        "victim": (victim / "stat").read_text().split()[2] in "RSD",
        "turn": (victim / "stat").read_text().split()[18],
        "cores": (victim / "status").read_text().split("Cpus_allowed:")[-1].splitlines()[:1],
        "limits": (victim / "limits").read_text(),
        "files": [
            (each.name, tuple(each.stat())[0:1] + tuple(each.stat())[3:7], each.stat().st_mtime)
            for each in files
        ],
        "contents": [each.read_text() for each in files],
        "more": [os.listxattr(each) for each in files],
        "work": sorted((each.name, stat.filemode(each.lstat().st_mode)) for each in work.iterdir()),
    }


def one(probe: Probe, who: str, walls: str) -> dict[str, object]:
    """Make a world for *probe*, try it out, and tell what it said and what is not as it was."""
    place = Path(tempfile.mkdtemp())
    place.chmod(0o711)
    outside, work, source = place / "outside", place / "work", place / "source"
    outside.mkdir()
    work.mkdir()
    for file in (outside / "file", source):
        file.write_text("as it was")
    if who == "root":
        os.chown(work, DECODER, DECODER)
    elif ROOT:
        # All that stands between this user and these is the walls.
        for each in (outside, outside / "file", source, work):
            os.chown(each, PLAIN, PLAIN)
    if (victim := os.fork()) == 0:
        if who == "plain" and ROOT:
            os.setresuid(PLAIN, PLAIN, PLAIN)
        time.sleep(60)
        os._exit(0)
    handle = os.open(source, os.O_RDONLY)
    os.dup2(handle, 0)
    os.close(handle)
    world = World(victim, outside)
    before = seen(world, work, source) | {"work": [(name, "-rw-r--r--") for name in NAMES]}
    try:
        said = try_out(probe, world, work, who, walls)
        after = seen(world, work, source)
        return {"said": said, "harm": [name for name in before if before[name] != after[name]]}
    finally:
        os.kill(victim, signal.SIGKILL)
        os.waitpid(victim, 0)
        for handle in world.pipe:
            os.close(handle)
        shutil.rmtree(place, ignore_errors=True)


def main(who: str, walls: str) -> None:
    """Try every probe as *who*, "root" or "plain".

    walls: behind all of the "walls", with the "list off", the "list alone", or in the "open".
    """
    os.umask(0o022)
    if walls == "open":
        libc().unshare(0x20000)  # a mount is this process's own
        libc().mount(b"none", b"/", None, 0x44000, None)
    probes = {**{name: probe for name, (probe, _) in PROBES.items()}, "a second door": x32}
    found = {name: one(probe, who, walls) for name, probe in probes.items()}
    print(json.dumps(found))


def x32(_: World) -> None:
    """Call the kernel by the other numbers that x86 has."""
    ask("getpid_x32")


if __name__ == "__main__":
    main(*sys.argv[1:])
