"""Write all that is shipped for the demonstration anew: ``python -m pedalwright_app.demo_renew``.

To be run, and the changes committed, whenever a case family or a part of the model changes.
"""

from __future__ import annotations

from pedalwright_app import demo_generator, demo_judging, demo_sheets

__all__ = ["main"]


def main() -> None:
    """Rewrite sheets, marks and ratings."""
    count = demo_generator.write_files(demo_sheets.TYPED)
    demo_sheets.forget()
    demo_judging.write_files()
    print(f"{count} sheets, {demo_judging.MARKS_FILE.name} and {demo_judging.RATINGS_FILE.name} written")


if __name__ == "__main__":
    main()
