"""Steps of the cohort desk that several tests take, on the small case of `own_cases`."""

import math
import sqlite3

from click.testing import CliRunner
from nbgrader.api import Gradebook

from autograde.cases import trainee_variant
from autograde.cohort.collect import collect
from autograde.cohort.families import load_case
from autograde.cohort.gradebook_marks import write_marks
from autograde.cohort.marking import mark_all, marked, to_mark
from pedalwright_app.cohort_commands import cohort as cohort_commands
from pedalwright_app.console import TeachingGroup
from pedalwright_app.filling import fill
from pedalwright_app.verify import verify

CASE = "crank-drill"
PASSPHRASE = "six invented words for a quay"
ISSUER = ("--issuer", "Fenwick Quay Cycle School", "--address", "https://fenwick-quay.example/school")
TASKS = ("torque", "power", "other-leg", "advice")
# Two raters: 60 and 70 % of 8 marks are 4.8 and 5.6, so the cut is 5.2 marks (mean of the raters' sums).
RATINGS = "round,rater,case,task,share_pct\n" + "".join(
    f"1,{rater},{CASE},{task},{share}\n" for rater, share in (("slate", 60), ("marl", 70)) for task in TASKS
)


def typed(cohort, who, share=1.0, advice="Say what it cannot tell, and refer when it hurts.", attempt=1):
    """Right answers by closed form: torque is force times lever, power torque times angular velocity (and a share)."""
    case = trainee_variant(load_case(CASE, cohort.settings.case_folders), cohort.secret, who, attempt).case
    torque = case.force_n * case.crank_mm / 1000
    power = torque * case.cadence_rpm * 2 * math.pi / 60
    return {"torque": f"{torque:.2f} N m", "power": f"{power * share:.1f} W", "other-leg": "B", "advice": advice}


def hand_in(cohort, who, share=1.0, advice="Say what it cannot tell, and refer when it hurts."):
    content = fill(cohort.notebook("release", who, CASE).read_bytes(), typed(cohort, who, share, advice))
    (cohort.inbox / f"{who}__{CASE}.ipynb").write_bytes(content)


def mark(cohort):
    collect(cohort)
    for _ in mark_all(cohort, to_mark(cohort)):
        pass
    write_marks(cohort, list(marked(cohort).values()))


def by_hand(cohort, who, marks, comment="", task="words-advice"):
    """Do what the form for hand marking does when a score is typed."""
    with Gradebook(cohort.db_url, cohort.settings.course_id) as gradebook:
        grade = gradebook.find_grade(task, CASE, CASE, who)
        grade.manual_score, grade.needs_manual_grade = marks, False
        if comment:
            gradebook.find_comment(task, CASE, CASE, who).manual_comment = comment
        gradebook.db.commit()


main = TeachingGroup("pedalwright", commands=[cohort_commands, verify])


def run(*arguments, code=0, typed=None):
    done = CliRunner().invoke(main, [str(argument) for argument in arguments], input=typed)
    assert done.exit_code == code, done.output
    assert "Traceback" not in done.output
    return done.output


def tables(cohort):
    """Every row of every table of the gradebook."""
    with sqlite3.connect(cohort.root / "gradebook.db") as db:
        names = [name for (name,) in db.execute("select name from sqlite_master where type = 'table'")]
        return {(name, row) for name in names for row in db.execute(f'select * from "{name}"')}


def files(cohort, *, gradebook=False):
    """Content of every file of a cohort by its path, locks left out."""
    return {
        path.relative_to(cohort.root).as_posix(): path.read_bytes()
        for path in cohort.root.rglob("*")
        if path.is_file() and not path.name.endswith("lock") and (gradebook or path.name != "gradebook.db")
    }
