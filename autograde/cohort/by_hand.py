"""Marks and comments that a person gave elsewhere, entered where nbgrader's form for hand marking keeps them."""

from __future__ import annotations

from collections.abc import Mapping

from autograde.cohort.errors import CohortError
from autograde.cohort.families import load_case
from autograde.cohort.folder import Cohort
from autograde.cohort.gradebook import api, open_gradebook
from autograde.cohort.notebook import grade_cell_id, solution_cell_id

__all__ = ["enter_marks", "exchange_mark"]


def enter_marks(cohort: Cohort, given: Mapping[tuple[str, str, str], tuple[float, str]]) -> int:
    """Enter marks and comments as the form for hand marking would; what a person entered before stays.

    Parameters
    ----------
    cohort : Cohort
        Marked, so that the gradebook knows the submissions.
    given : mapping
        Marks, 0 to the task's full marks, and a comment, by trainee id, case name and task id.

    Returns
    -------
    int
        How many were entered.

    Raises
    ------
    CohortError
        If marks are out of range, or the gradebook holds no such submission.
    """
    nb = api()
    tasks = {case: load_case(case, cohort.settings.case_folders) for case in cohort.settings.cases}
    entered = 0
    with open_gradebook(cohort) as gradebook:
        for (trainee, case, task_id), (marks, comment) in given.items():
            task = tasks[case].task(task_id)
            if not 0 <= marks <= task.marks:
                raise CohortError(f"{trainee} is given {marks:g} marks in {task_id}; possible are 0 to {task.marks:g}")
            try:
                grade = gradebook.find_grade(grade_cell_id(task), case, case, trainee)
                note = gradebook.find_comment(solution_cell_id(task), case, case, trainee)
            except nb.MissingEntry as trouble:
                raise CohortError(f"{trainee} has no marked work for {case}; collect and mark it first") from trouble
            if grade.manual_score is None:
                grade.manual_score, grade.needs_manual_grade = marks, False
                note.manual_comment = comment or note.manual_comment
                entered += 1
        if entered:
            gradebook.db.commit()
    return entered


def exchange_mark(cohort: Cohort, trainee: str, case: str, task_id: str, *, held: float, marks: float) -> bool:
    """Put an agreed mark in the place of the mark that it was agreed on; any other mark of a person stays.

    Parameters
    ----------
    cohort : Cohort
        Marked.
    trainee, case, task_id : str
        Which answer.
    held : float
        The mark that was read a second time.
    marks : float
        The mark agreed on, 0 to the task's full marks.

    Returns
    -------
    bool
        Whether the gradebook holds the agreed mark now; False if it holds a third one.
    """
    task = load_case(case, cohort.settings.case_folders).task(task_id)
    with open_gradebook(cohort) as gradebook:
        grade = gradebook.find_grade(grade_cell_id(task), case, case, trainee)
        if grade.manual_score == held and held != marks:
            grade.manual_score, grade.needs_manual_grade = marks, False
            gradebook.db.commit()
        return bool(grade.manual_score == marks)
