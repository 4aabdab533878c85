"""A hub for a cohort: each trainee signs in and gets the course with live benches, and a notebook for case studies.

Copy this file beside your hub, change what is marked, and start it with

    PEDALWRIGHT_COURSE_BOOK=/srv/book jupyterhub -f jupyterhub_config_example.py

It is held by a test that signs in as a trainee and moves a slider.
"""

import os
import sys
from pathlib import Path
from typing import Any

c: Any = get_config()  # type: ignore[name-defined]  # noqa: F821

# CHANGE: where the hub listens. Put a web server with a certificate in front of it before it leaves your own network.
c.JupyterHub.bind_url = os.environ.get("PEDALWRIGHT_HUB_ADDRESS", "http://127.0.0.1:8000/school/")

# CHANGE: how trainees sign in. "shared-password" asks for one password that you hand out on the first day; for more
# than a workshop use your school's own sign-in (see the hub's documentation on authenticators).
c.JupyterHub.authenticator_class = "shared-password"
c.SharedPasswordAuthenticator.user_password = os.environ.get("PEDALWRIGHT_HUB_PASSWORD", "")
c.Authenticator.allowed_users = set(os.environ.get("PEDALWRIGHT_HUB_TRAINEES", "").split())

# CHANGE: where trainees' servers run. "simple" starts them on this machine, all as the user who started the hub: good
# for trying and for a workshop among people who trust each other. For anything else take a spawner that keeps them
# apart (one system user or one container each).
c.JupyterHub.spawner_class = "simple"
c.SimpleLocalProcessSpawner.home_dir_template = os.environ.get("PEDALWRIGHT_HUB_HOMES", "homes") + "/{username}"

# The course opens first. Its server extension is switched on where Pedalwright is installed; it is told where the
# built book lies, and to end a trainee's kernel after 20 minutes without a move. A whole server ends after two hours.
c.Spawner.default_url = "/course/"
c.Spawner.environment = {"PEDALWRIGHT_COURSE_BOOK": os.environ.get("PEDALWRIGHT_COURSE_BOOK", "/srv/book")}
c.Spawner.cmd = [str(Path(sys.executable).with_name("jupyterhub-singleuser"))]
c.Spawner.args = ["--CourseApp.rest_after_minutes=20", "--ServerApp.shutdown_no_activity_timeout=7200"]
