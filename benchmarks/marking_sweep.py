"""Sweep every case family over thousands of seeds: is each variant fair, and how much do variants differ?

    python benchmarks/marking_sweep.py [--seeds 5000] [--workers 1] [--again] [FAMILY ...]

Each variant is checked as in `CHECKS`; a variant that fails one is counted and the first few are named. What was found
goes to `marking_sweep.json` beside this file after each family (its format: `marking_sweep.schema.md`), so that a sweep
that was stopped goes on where it was; a family that draws or is marked otherwise than then is swept again. Ends with an
error when any check failed.
"""

import argparse
import hashlib
import json
import math
import sys
import time
from collections import Counter
from concurrent.futures import ProcessPoolExecutor, as_completed
from multiprocessing import get_context
from pathlib import Path

import numpy as np
from rich.console import Console
from rich.table import Table

from autograde.cases import Choice, DirectedChange, Quantity, VariantError, discover_families, trainee_variant
from autograde.marking import State, mark_sheet, read_answer
from autograde.marking.compare import apart
from autograde.marking.solving import SolveError, key_values, predict, solve_task

RESULT = Path(__file__).with_name("marking_sweep.json")
SECRET = bytes(range(32))
CHECKS = {
    "solvable": "a variant was found, and every task has a right value",
    "full_marks": "the right sheet earns full marks",
    "rounded": "the right values to three figures, and those just inside the tolerance, earn full marks",
    "empty": "an empty sheet earns nothing and waits for a person",
    "recognised": "each slip is recognised as itself and as nothing else, and earns its credit",
    "follows": "right reckoning from a slip's own value loses nothing after the slip",
}
SAMPLE = 20
INSIDE = 0.98
STOPPING = {"refer", "stop", "emergency"}
NAMED_FAILURES = 5


def sweep(name, seeds):
    """Draw, check and describe all variants of a family."""
    family = discover_families()[name]
    failures, examples = Counter(dict.fromkeys(CHECKS, 0)), []
    variants = []
    started = time.process_time()
    for number in range(seeds):
        try:
            variants.append(trainee_variant(family, SECRET, f"trainee-{number}"))
        except VariantError as problem:
            failures["solvable"] += 1
            examples.append(f"trainee-{number}: solvable: {problem}")
    draw_ms = 1000 * (time.process_time() - started) / seeds
    keys = [key_values(family.tasks, variant.case) for variant in variants]
    mark_ms = 0.0
    for variant, key in zip(variants, keys, strict=True):
        taken, found = check(variant, key)
        mark_ms += 1000 * taken / seeds
        for what, words in found.items():
            failures[what] += 1
            examples.append(f"{variant.fingerprint[:12]}: {what}: {words}")
    tries = np.array([variant.tries for variant in variants])
    reasons = sum((Counter(variant.rejected) for variant in variants), Counter())
    return {
        "seeds": seeds,
        "behaviour": behaviour_of(family),
        "variants": len(variants),
        "different": len({each.fingerprint for each in variants}),
        "tries_mean": figures(tries.mean()),
        "tries_max": int(tries.max()),
        "rejected_pct": figures(100 * (1 - len(variants) / tries.sum())),
        "rejections": {reason: figures(100 * n / tries.sum()) for reason, n in reasons.most_common(8)},
        "draw_ms": figures(draw_ms),
        "mark_ms": figures(mark_ms),
        "safety_critical": safety_critical(family, keys),
        "tasks": {task.id: describe(family, task, variants, keys) for task in family.tasks if not task.by_hand},
        "misconceptions": len(family.misconceptions),
        "failures": dict(failures),
        "examples": examples[:NAMED_FAILURES],
    }


def check(variant, key):
    """Seconds to mark the right sheet, and by check the first thing that is not as it should be."""
    family, case, found = variant.family, variant.case, {}
    unsolved = [str(value) for value in key.values() if isinstance(value, SolveError)]
    if unsolved:
        return 0.0, {"solvable": unsolved[0]}
    right = {task.id: written(task, key[task.id]) for task in family.tasks if not task.by_hand}
    started = time.process_time()
    whole = mark_sheet(family.tasks, family.misconceptions, case, right)
    taken = time.process_time() - started
    by_hand = sum(task.marks for task in family.tasks if task.by_hand)
    if not all_right(whole) or whole.marks != whole.max_marks - by_hand:
        found["full_marks"] = "right values lose marks"
    for spelling in (to_three_figures, just_below, just_above):
        sheet = {task.id: spelling(task, key[task.id]) for task in family.tasks if not task.by_hand}
        for each in mark_sheet(family.tasks, family.misconceptions, case, sheet).results:
            if each.state is not State.CORRECT and each.task in sheet:
                found["rounded"] = f"{each.task}: {sheet[each.task]}"
    empty = mark_sheet(family.tasks, family.misconceptions, case, {})
    if empty.marks or any(each.marks is not None or each.state is not State.NOT_GRADABLE for each in empty.results):
        found["empty"] = "an empty sheet is marked"
    for slip in family.misconceptions:
        check_slip(variant, key, right, slip, found)
    return taken, found


def check_slip(variant, key, right, slip, found):
    """Type what one slip leads to, and from there reckon right."""
    family, case = variant.family, variant.case
    task = family.task(slip.task)
    value = predict(slip, task, case, key)
    if value is None:
        return
    sheet = {**right, task.id: written(task, value)}
    own = {**key, task.id: read_answer(task.kind, sheet[task.id]).value}
    changed = {task.id}
    for later in family.tasks:
        if changed & set(later.uses) and not later.by_hand:
            changed.add(later.id)
            try:
                sheet[later.id] = written(later, solve_task(later, case, own))
                own[later.id] = read_answer(later.kind, sheet[later.id]).value
            except SolveError:
                sheet.pop(later.id)
    marked = mark_sheet(family.tasks, family.misconceptions, case, sheet)
    this = marked[task.id]
    if (this.state, this.misconception) != (State.MISCONCEPTION, slip.id):
        found["recognised"] = f"{task.id}: {slip.id} is taken for {this.misconception or this.state}"
    elif this.marks != round(slip.credit * task.marks, 2):
        found["recognised"] = f"{task.id}: {slip.id} earns {this.marks}"
    for each in marked.results:
        if not each.by_hand and each.task in sheet and each.task != task.id and each.marks != each.max_marks:
            found["follows"] = f"{each.task} after {slip.id}: {each.state}"


def all_right(sheet):
    """Whether everything that the program marks is correct."""
    return all(
        each.state is State.CORRECT and each.marks == each.max_marks for each in sheet.results if not each.by_hand
    )


def written(task, value, digits=6):
    """A value as a careful trainee types it."""
    kind = task.kind
    if isinstance(kind, Quantity):
        return f"{value:.{digits}g} {kind.unit}"
    if isinstance(kind, DirectedChange):
        return f"{(kind.positive if value >= 0 else kind.negative)[0]} {abs(value):.{digits}g} {kind.unit}"
    labels = {option.key: label for label, option in kind.labelled()}
    keys = sorted(value) if isinstance(value, frozenset) else value
    return labels[value] if isinstance(kind, Choice) else ", ".join(labels[key] for key in keys) or "none"


def to_three_figures(task, value):
    """The value rounded to three figures."""
    return written(task, float(f"{value:.3g}") if isinstance(value, float) else value)


def just_below(task, value):
    """The lowest value that counts as right, nearly."""
    return written(task, beside(task, value, -INSIDE), digits=9)


def just_above(task, value):
    """The highest value that counts as right, nearly."""
    return written(task, beside(task, value, INSIDE), digits=9)


def beside(task, value, bands):
    """A number some half widths of its tolerance band away."""
    return value + bands * task.kind.tolerance.half_width(value) if isinstance(value, float) else value


def safety_critical(family, keys):
    """The task that gates the pass, and how often the right answer is to stop and refer."""
    for task in family.tasks:
        if task.safety and not task.by_hand:
            stops = sum(key[task.id] in STOPPING for key in keys)
            return {"task": task.id, "refer_pct": figures(100 * stops / len(keys))}
    return None


def describe(family, task, variants, keys):
    """Spread of a task's right values, and how far its nearest slip lies."""
    told = dict.fromkeys(("unit", "p05", "median", "p95", "most", "most_pct", "gap_min", "gap_p05", "gap_median"))
    gaps, nearest = gaps_to_slips(family, task, variants, keys)
    values = [key[task.id] for key in keys]
    if isinstance(task.kind, Quantity | DirectedChange):
        told |= {"unit": task.kind.unit}
        told |= dict(zip(("p05", "median", "p95"), map(figures, np.percentile(values, (5, 50, 95))), strict=True))
        if gaps.size:
            low = (gaps.min(), *np.percentile(gaps, (5, 50)))
            told |= dict(zip(("gap_min", "gap_p05", "gap_median"), map(figures, low), strict=True))
    else:
        most, count = Counter(values).most_common(1)[0]
        in_order = [option.key for option in task.kind.options if option.key in most]
        told |= {"most": most if isinstance(most, str) else ", ".join(most if isinstance(most, tuple) else in_order)}
        told |= {"most_pct": figures(100 * count / len(values))}
    return {**told, "nearest": nearest}


def gaps_to_slips(family, task, variants, keys):
    """Distance of the nearest slip in each variant (both tolerance bands are 1), and the slip that is nearest most."""
    gaps, names = [], Counter()
    for variant, key in zip(variants, keys, strict=True):
        led = {
            slip.id: predict(slip, task, variant.case, key) for slip in family.misconceptions if slip.task == task.id
        }
        away = {name: apart(task.kind, value, key[task.id]) for name, value in led.items() if value is not None}
        if away:
            names[min(away, key=away.get)] += 1
            gaps.append(min(away.values()))
    return np.array(gaps), names.most_common(1)[0][0] if names else None


def figures(value):
    """Four figures; None for what is no number."""
    return float(f"{value:.4g}") if math.isfinite(value) else None


def behaviour_of(family):
    """Fingerprint of how a family draws and is marked: its first variants, right values, slips and their marks."""
    digest = hashlib.sha256(repr((CHECKS, [task.id for task in family.tasks])).encode())
    for number in range(SAMPLE):
        variant = trainee_variant(family, SECRET, f"trainee-{number}")
        key = key_values(family.tasks, variant.case)
        right = {task.id: written(task, key[task.id]) for task in family.tasks if not task.by_hand}
        digest.update(repr((variant.fingerprint, sorted(right.items()))).encode())
        for slip in family.misconceptions:
            task = family.task(slip.task)
            value = predict(slip, task, variant.case, key)
            sheet = {**right, task.id: "" if value is None else written(task, value)}
            found = mark_sheet(family.tasks, family.misconceptions, variant.case, sheet).results
            digest.update(
                repr([(each.task, str(each.state), each.marks, each.misconception) for each in found]).encode()
            )
    return digest.hexdigest()[:16]


def read_result():
    """What earlier sweeps found."""
    return json.loads(RESULT.read_text(encoding="utf-8")) if RESULT.exists() else {"families": {}}


def is_done(family, entry, seeds):
    """Whether an earlier sweep was as large and the family is as it was then."""
    return bool(entry) and entry["seeds"] >= seeds and entry.get("behaviour") == behaviour_of(family)


def write_result(name, entry):
    """Put a family's entry into the file; it is whole at every moment."""
    result = read_result()
    result["families"][name] = entry
    result["families"] = {each: result["families"][each] for each in discover_families() if each in result["families"]}
    result["seeds"] = min(each["seeds"] for each in result["families"].values())
    fresh = RESULT.with_suffix(".part")
    fresh.write_text(json.dumps(result, indent=1, sort_keys=True, ensure_ascii=False) + "\n", encoding="utf-8")
    fresh.replace(RESULT)


def show(console, result, names):
    """Print what was found."""
    table = Table(title="variants of each family")
    for heading in ("family", "seeds", "different", "tries", "most", "rejected", "draw", "mark", "refer", "failures"):
        table.add_column(heading, justify="left" if heading == "family" else "right")
    for name in names:
        entry = result["families"][name]
        safety = entry["safety_critical"]
        table.add_row(
            *(name, str(entry["seeds"]), str(entry["different"]), f"{entry['tries_mean']:.1f}"),
            *(str(entry["tries_max"]), f"{entry['rejected_pct']:.0f} %", f"{entry['draw_ms']:.1f} ms"),
            *(f"{entry['mark_ms']:.2f} ms", f"{safety['refer_pct']:.0f} %" if safety else ""),
            str(sum(entry["failures"].values())),
        )
    console.print(table)
    for name in names:
        for text in result["families"][name]["examples"]:
            console.print(f"{name}: {text}", highlight=False)


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("families", nargs="*", metavar="FAMILY")
    parser.add_argument("--seeds", type=int, default=500)
    parser.add_argument("--workers", type=int, default=1)
    parser.add_argument("--again", action="store_true", help="sweep also what is up to date")
    chosen = parser.parse_args()
    families, known = discover_families(), read_result()["families"]
    names = chosen.families or list(families)
    done = [name for name in names if is_done(families[name], known.get(name), chosen.seeds)]
    todo = [name for name in names if chosen.again or name not in done]
    console = Console(width=118)
    # Each family in a fresh process, so that what is swept is what the sources say now.
    with ProcessPoolExecutor(chosen.workers, get_context("spawn"), max_tasks_per_child=1) as pool:
        jobs = {pool.submit(sweep, name, chosen.seeds): name for name in todo}
        for job in as_completed(jobs):
            write_result(jobs[job], job.result())
            console.print(f"{jobs[job]} swept", highlight=False)
    result = read_result()
    show(console, result, names)
    return any(sum(result["families"][name]["failures"].values()) for name in names)


if __name__ == "__main__":
    sys.exit(main())
