"""A filter of system calls, as the kernel's classic packet filter reads it.

Namespaces already take files, network and other processes away. The filter also closes doors into the kernel that a
notebook has no use for, sockets of unusual kinds, and memory that no other limit counts.
"""

from __future__ import annotations

import struct

__all__ = ["DENIED", "MACHINES", "filter_program"]

MACHINES = {"x86_64": (0, 0xC000003E), "aarch64": (1, 0xC00000B7)}
"""Column in `DENIED`, and the kernel's mark for the machine (linux/audit.h)."""

DENIED = {
    # name: number on x86_64, on aarch64 (asm/unistd_64.h, asm-generic/unistd.h); None where there is none
    "acct": (163, 89),
    "add_key": (248, 217),
    "bpf": (321, 280),
    "chroot": (161, 51),
    "delete_module": (176, 106),
    "finit_module": (313, 273),
    "fsmount": (432, 432),
    "fsopen": (430, 430),
    "init_module": (175, 105),
    "io_uring_enter": (426, 426),
    "io_uring_register": (427, 427),
    "io_uring_setup": (425, 425),
    "ioperm": (173, None),
    "iopl": (172, None),
    "kexec_file_load": (320, 294),
    "kexec_load": (246, 104),
    "keyctl": (250, 219),
    "memfd_create": (319, 279),
    "memfd_secret": (447, 447),
    "modify_ldt": (154, None),
    "mount": (165, 40),
    "move_mount": (429, 429),
    "msgget": (68, 186),
    "name_to_handle_at": (303, 264),
    "open_by_handle_at": (304, 265),
    "open_tree": (428, 428),
    "perf_event_open": (298, 241),
    "pivot_root": (155, 41),
    "process_vm_readv": (310, 270),
    "process_vm_writev": (311, 271),
    "ptrace": (101, 117),
    "quotactl": (179, 60),
    "reboot": (169, 142),
    "request_key": (249, 218),
    "semget": (64, 190),
    "setns": (308, 268),
    "shmget": (29, 194),
    "swapoff": (168, 225),
    "swapon": (167, 224),
    "syslog": (103, 116),
    "umount2": (166, 39),
    "unshare": (272, 97),
    "userfaultfd": (323, 282),
    "vmsplice": (278, 75),
}
SOCKET, CLONE, CLONE3 = (41, 198), (56, 220), (435, 435)

NEW_NAMESPACES = 0x7E020080
"""CLONE_NEWTIME, NEWNS, NEWCGROUP, NEWUTS, NEWIPC, NEWUSER, NEWPID, NEWNET (linux/sched.h)."""
SOCKETS = (1, 2, 10, 16)
"""AF_UNIX, AF_INET, AF_INET6, AF_NETLINK (linux/socket.h): a notebook talks to itself, inside its own network."""
X32 = 0x40000000
NUMBER_AT, MACHINE_AT, FIRST_ARGUMENT_AT = 0, 4, 16
LOAD, EQUAL, AT_LEAST, ANY_BIT, RETURN = 0x20, 0x15, 0x35, 0x45, 0x06
ALLOW, KILL, ERROR = 0x7FFF0000, 0x80000000, 0x00050000
EPERM, ENOSYS, EAFNOSUPPORT = 1, 38, 97


def filter_program(machine: str) -> bytes:
    """Write the filter for a kind of machine.

    Parameters
    ----------
    machine : str
        As ``platform.machine()`` names it.

    Returns
    -------
    bytes
        The program, 8 bytes a step; empty for a machine that is not known, where namespaces must do.

    Notes
    -----
    A call for another kind of machine ends the process. The newer call for making processes is said not to exist,
    since a filter cannot see its flags; the C library then takes the older one.
    """
    if machine not in MACHINES:
        return b""
    column, mark = MACHINES[machine]
    steps = [_step(LOAD, MACHINE_AT), _step(EQUAL, mark, 1, 0), _step(RETURN, KILL), _step(LOAD, NUMBER_AT)]
    if machine == "x86_64":
        steps += [_step(AT_LEAST, X32, 0, 1), _step(RETURN, ERROR | EPERM)]
    for numbers in DENIED.values():
        if (number := numbers[column]) is not None:
            steps += _refuse(number, EPERM)
    steps += _refuse(CLONE3[column], ENOSYS)
    steps += [_step(EQUAL, CLONE[column], 0, 4), _step(LOAD, FIRST_ARGUMENT_AT), _step(ANY_BIT, NEW_NAMESPACES, 0, 1)]
    steps += [_step(RETURN, ERROR | EPERM), _step(RETURN, ALLOW)]
    steps += [_step(EQUAL, SOCKET[column], 0, len(SOCKETS) + 2), _step(LOAD, FIRST_ARGUMENT_AT)]
    steps += [_step(EQUAL, kind, len(SOCKETS) - place, 0) for place, kind in enumerate(SOCKETS)]
    steps += [_step(RETURN, ERROR | EAFNOSUPPORT), _step(RETURN, ALLOW)]
    return b"".join(steps)


def _refuse(number: int, reason: int) -> list[bytes]:
    return [_step(EQUAL, number, 0, 1), _step(RETURN, ERROR | reason)]


def _step(code: int, value: int, if_true: int = 0, if_false: int = 0) -> bytes:
    return struct.pack("=HBBI", code, if_true, if_false, value)
