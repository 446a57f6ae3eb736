"""The wall of files (Landlock): what is open already, the names made beforehand, and no more."""

import os
import struct

from evidence.media.kernel import libc, why_not

CREATE, ADD, RESTRICT = 444, 445, 446  # the same on every kind of machine
BELOW = 1  # LANDLOCK_RULE_PATH_BENEATH
WRITE_FILE, READ_FILE, TRUNCATE = 1 << 1, 1 << 2, 1 << 14
NETWORK, SCOPES = 3, 3  # bind and connect; abstract sockets and signals to whom is outside


def close_files(folder: str = ".") -> str:
    """Let this process open files in *folder* that are there already, and nothing else, for good.

    Nothing can be made, renamed, linked or removed, run, or listed. Newer kernels also hold it from
    TCP, from abstract sockets and from signals to others. Give "" or why it cannot be done.
    """
    version = libc().syscall(CREATE, None, 0, 1)
    if version < 1:
        return why_not(version)
    attributes = handled(version)
    rules = libc().syscall(CREATE, attributes, len(attributes), 0)
    if rules < 0:
        return why_not(rules)
    known = struct.unpack_from("Q", attributes)[0]
    place = os.open(folder, os.O_PATH | os.O_DIRECTORY)
    try:
        rights = (WRITE_FILE | READ_FILE | TRUNCATE) & known
        added = libc().syscall(ADD, rules, BELOW, struct.pack("=Qi", rights, place), 0)
        return why_not(added) or why_not(libc().syscall(RESTRICT, rules, 0))
    finally:
        os.close(place)
        os.close(rules)


def handled(version: int) -> bytes:
    """Give what a kernel with *version* of Landlock can refuse, all of it, as it wants it told."""
    bits = {1: 13, 2: 14, 3: 15, 4: 15}.get(version, 16)
    files = (1 << bits) - 1
    if version < 4:
        return struct.pack("Q", files)
    return struct.pack("QQ", files, NETWORK) + (struct.pack("Q", SCOPES) if version > 5 else b"")
