"""Run the command with ``python -m pedalwright_app``."""

from pedalwright_app.main import main

main()
