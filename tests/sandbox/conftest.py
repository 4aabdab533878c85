"""The sandbox of this machine; without one these tests say what to install."""

import shutil

import pytest

from autograde.sandbox import Box, find_box, why_none


@pytest.fixture(scope="session")
def box() -> Box:
    reason = why_none()
    if reason and shutil.which("bwrap"):
        pytest.skip(f"this machine forbids what a sandbox needs: {reason}")
    if reason:
        pytest.fail(reason, pytrace=False)
    return find_box()
