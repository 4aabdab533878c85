"""Write all that is shipped for the demonstration anew: ``python -m pedalwright_app.demo_renew``.

To be run, and the changes committed, whenever a case family or a part of the model changes. It takes about a minute,
since the figures come from running the demonstration.
"""

from __future__ import annotations

from pedalwright_app import demo_figures, demo_generator, demo_judging, demo_sheets

__all__ = ["main"]


def main() -> None:
    """Rewrite sheets, marks, ratings and the figures that the book quotes."""
    count = demo_generator.write_files(demo_sheets.TYPED)
    demo_sheets.forget()
    demo_judging.write_files()
    demo_figures.write_file()
    files = demo_judging.MARKS_FILE, demo_judging.RATINGS_FILE, demo_figures.FIGURES_FILE
    print(f"Written: {count} files in {demo_sheets.TYPED.name}, " + ", ".join(file.name for file in files))


if __name__ == "__main__":
    main()
