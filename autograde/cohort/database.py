"""The address of the gradebook's database: which kinds are allowed, and no password in it."""

from __future__ import annotations

from urllib.parse import parse_qs, urlsplit

from autograde.cohort.errors import CohortError

__all__ = ["EXAMPLE", "PASSWORD_PLACES", "check_unused", "checked_address", "refuse_another_course"]

EXAMPLE = "postgresql+psycopg://NAME@HOST/DATABASE"
PASSWORD_PLACES = (
    "leave the password out of it: put it into the environment as PGPASSWORD, or into the file ~/.pgpass "
    "(one line HOST:PORT:DATABASE:NAME:PASSWORD, readable by nobody else: chmod 600)"
)
DRIVERS = {"sqlite": "sqlite", "postgresql+psycopg": "postgresql+psycopg", "postgresql": "postgresql+psycopg"}


def checked_address(address: str) -> str:
    """Check the address of a database, and name the driver in it.

    Parameters
    ----------
    address : str
        Empty, or an address such as ``postgresql+psycopg://flint@db.example.org/autumn``.

    Returns
    -------
    str
        The address with its driver.

    Raises
    ------
    CohortError
        If the kind of database is not known, or the address holds a password; the message never repeats it.

    Examples
    --------
    >>> checked_address("postgresql://flint@localhost:5433/autumn")
    'postgresql+psycopg://flint@localhost:5433/autumn'
    """
    if not address:
        return ""
    kind, colon, rest = address.partition("://")
    if not colon or kind not in DRIVERS:
        shown = kind[:40] if colon else "something without ://"
        raise CohortError(
            f"the gradebook's address begins with {shown!r}; allowed is {EXAMPLE}, or nothing for gradebook.db"
        )
    try:
        parts = urlsplit(f"db://{rest}")
        secret = parts.password is not None or "password" in parse_qs(parts.query, keep_blank_values=True)
        _ = parts.port
    except ValueError:
        raise CohortError(f"the gradebook's address is not readable; allowed is {EXAMPLE}") from None
    if secret:
        raise CohortError(f"the gradebook's address holds a password; {PASSWORD_PLACES}")
    return f"{DRIVERS[kind]}://{rest}"


def check_unused(address: str) -> None:
    """Make sure that a database server answers and holds no gradebook yet.

    Parameters
    ----------
    address : str
        From `checked_address`; empty for a file in the cohort's folder, which needs no check.

    Raises
    ------
    CohortError
        If the server does not answer, or the database is in use.
    """
    if not address or address.startswith("sqlite"):
        return
    from sqlalchemy import create_engine, inspect
    from sqlalchemy.exc import SQLAlchemyError

    try:
        engine = create_engine(address)
        try:
            tables = inspect(engine).get_table_names()
        finally:
            engine.dispose()
    except ModuleNotFoundError:
        raise CohortError("a gradebook on PostgreSQL needs the driver: pip install 'pedalwright[postgres]'") from None
    except SQLAlchemyError as trouble:
        detail = " ".join(str(getattr(trouble, "orig", None) or trouble).split())[:200]
        raise CohortError(
            f"the database server does not let us in ({detail}); check the address; if it wants a password, "
            f"{PASSWORD_PLACES}"
        ) from None
    if "assignment" in tables:
        raise CohortError("this database holds a gradebook already; make a new, empty one for each cohort")


def refuse_another_course(connection: object, course_id: str) -> None:
    """Keep two cohorts from writing into one database.

    Parameters
    ----------
    connection : sqlalchemy.Connection
        To a gradebook.
    course_id : str
        The cohort's.

    Raises
    ------
    CohortError
        If the database belongs to another course.
    """
    from sqlalchemy import text

    held = [str(row[0]) for row in connection.execute(text("SELECT id FROM course"))]  # type: ignore[attr-defined]
    if held and course_id not in held:
        raise CohortError(
            f"the database at the gradebook's address belongs to the course {held[0][:60]!r}, and this cohort is "
            f"{course_id!r}; give every cohort a database of its own"
        )
