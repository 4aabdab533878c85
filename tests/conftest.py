"""Settings for all tests, and the one headless Chromium they share."""

import os
import shutil
from collections.abc import Iterator

import pytest
from hypothesis import settings
from playwright.sync_api import Browser, sync_playwright

# A busy machine must not fail a property: examples have no time limit of their own.
settings.register_profile("steady", deadline=None)
settings.load_profile("steady")

QUIET = [
    *("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"),
    *("--disable-component-update", "--disable-sync", "--disable-dev-shm-usage"),
]


def find_chromium() -> str:
    """Path of a Chromium, or an error that says what to install."""
    named = os.environ.get("PEDALWRIGHT_CHROMIUM")
    found = named or next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
    if not found or not shutil.which(found):
        pytest.fail(
            f"browser tests: found {named or 'no browser'}; allowed: a Chromium; install the Debian package chromium, "
            "or set PEDALWRIGHT_CHROMIUM to the path of one",
            pytrace=False,
        )
    return found


@pytest.fixture(scope="session")
def launch() -> Iterator:
    """Start a headless Chromium, with further switches if wanted."""
    with sync_playwright() as driver:
        started: list[Browser] = []

        def start(*switches: str) -> Browser:
            started.append(driver.chromium.launch(executable_path=find_chromium(), args=[*QUIET, *switches]))
            return started[-1]

        yield start
        for browser in started:
            browser.close()


@pytest.fixture(scope="session")
def browser(launch) -> Browser:
    """One headless Chromium for most tests."""
    return launch()
