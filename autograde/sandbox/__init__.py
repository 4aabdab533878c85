"""Running notebooks that nobody trusts: no network, no files but Python's own, bounded in everything.

What comes out is for looking at. Code in the sandbox can forge its results, so nothing here may earn marks.
"""

from autograde.sandbox.box import Box, find_box, why_none
from autograde.sandbox.errors import SandboxError
from autograde.sandbox.limits import Limits
from autograde.sandbox.outputs import CellRun, Output
from autograde.sandbox.run import Run, run_cells

__all__ = ["Box", "CellRun", "Limits", "Output", "Run", "SandboxError", "find_box", "run_cells", "why_none"]
