"""How much a run of somebody else's code may use."""

from __future__ import annotations

from dataclasses import dataclass

from autograde.sandbox.errors import SandboxError

__all__ = ["Limits"]


@dataclass(frozen=True)
class Limits:
    """Bounds of one run; whoever goes past one is stopped, and what was put out before is kept.

    Parameters
    ----------
    seconds : float
        Time for the whole run, s, above 0.
    cell_seconds : int
        Time after which a cell is interrupted, s, from 1.
    memory_mb : int
        Memory of all processes together, MB, from 256.
    processes : int
        Processes and threads at a time, from 24 (a notebook's own take about 20).
    output_kb : int
        What all cells together may put out, kB, from 1.
    disk_mb : int
        Files written, all of them in memory and gone after the run, MB, from 1.

    Raises
    ------
    SandboxError
        If a bound is out of its range.

    Examples
    --------
    >>> Limits(seconds=5).cell_seconds
    20
    """

    seconds: float = 60.0
    cell_seconds: int = 20
    memory_mb: int = 1024
    processes: int = 64
    output_kb: int = 2000
    disk_mb: int = 64

    def __post_init__(self) -> None:
        least = {"cell_seconds": 1, "memory_mb": 256, "processes": 24, "output_kb": 1, "disk_mb": 1}
        if not self.seconds > 0:
            raise SandboxError(f"seconds is {self.seconds:g}; give a time above 0")
        for name, bound in least.items():
            if getattr(self, name) < bound:
                raise SandboxError(f"{name} is {getattr(self, name)}; give at least {bound}")
