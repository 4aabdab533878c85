"""The live course: a server extension that serves the built book and lets its benches calculate."""

from __future__ import annotations

from typing import Any


def _jupyter_server_extension_points() -> list[dict[str, Any]]:
    """Tell the server where the extension is; called when the extension is switched on."""
    from pedalwright_app.course.extension import CourseApp

    return [{"module": "pedalwright_app.course", "app": CourseApp}]
