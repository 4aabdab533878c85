"""Sweep a case family over seeds: how hard variants are to find, how much they differ, how far slips lie apart.

Run with `python benchmarks/marking_sweep.py [SEEDS] [FAMILY ...]`.
"""

import sys
import time
from collections import Counter

import numpy as np
from rich.console import Console
from rich.table import Table

from autograde.cases import DirectedChange, Quantity, discover_families, trainee_variant
from autograde.marking import mark_sheet
from autograde.marking.compare import apart
from autograde.marking.solving import key_values, predict

SECRET = bytes(range(32))


def main(arguments):
    seeds = int(arguments[0]) if arguments else 500
    families = discover_families()
    console = Console(width=118)
    for name in arguments[1:] or families:
        sweep(console, families[name], seeds)


def sweep(console, family, seeds):
    started = time.process_time()
    variants = [trainee_variant(family, SECRET, f"trainee-{number}") for number in range(seeds)]
    draw_ms = 1000 * (time.process_time() - started) / seeds
    keys = [key_values(family.tasks, variant.case) for variant in variants]
    sheets = [{task: str(value) for task, value in key.items()} for key in keys]
    started = time.process_time()
    for variant, sheet in zip(variants, sheets, strict=True):
        mark_sheet(family.tasks, family.misconceptions, variant.case, sheet)
    mark_ms = 1000 * (time.process_time() - started) / seeds
    tries = np.array([variant.tries for variant in variants])
    console.print(task_table(family, variants, keys))
    console.print(
        f"{family.name}: {seeds} seeds, {len({each.fingerprint for each in variants})} different variants. "
        f"{100 * (1 - seeds / tries.sum()):.0f} % of the draws rejected; {tries.mean():.1f} tries a variant, at most "
        f"{tries.max()}. {draw_ms:.1f} ms to draw, {mark_ms:.2f} ms to mark a sheet (processor time)."
    )
    reasons = sum((Counter(variant.rejected) for variant in variants), Counter())
    for reason, count in reasons.most_common(5):
        console.print(f"  {100 * count / max(1, sum(reasons.values())):3.0f} % {reason}", highlight=False)
    console.print()


def task_table(family, variants, keys):
    table = Table(title=f"{family.name}: right values, and distance of the nearest slip (both bands = 1)")
    for heading in ("task", "5 %", "median", "95 %", "unit", "least", "5 %", "median", "nearest slip"):
        table.add_column(heading, justify="left" if heading in {"task", "unit", "nearest slip"} else "right")
    for task in family.tasks:
        if task.by_hand:
            continue
        gaps, nearest = gaps_to_slips(family, task, variants, keys)
        table.add_row(task.id, *spread(task, keys), *gap_cells(gaps), nearest)
    return table


def spread(task, keys):
    values = [key[task.id] for key in keys]
    if isinstance(task.kind, Quantity | DirectedChange):
        return (*(f"{value:.4g}" for value in np.percentile(values, (5, 50, 95))), task.kind.unit)
    most, count = Counter(values).most_common(1)[0]
    shown = most if isinstance(most, str) else f"{len(most)} options"
    return ("", shown, f"{100 * count / len(values):.0f} %", "of the variants")


def gaps_to_slips(family, task, variants, keys):
    gaps, names = [], Counter()
    for variant, key in zip(variants, keys, strict=True):
        led = {
            slip.id: predict(slip, task, variant.case, key) for slip in family.misconceptions if slip.task == task.id
        }
        away = {name: apart(task.kind, value, key[task.id]) for name, value in led.items() if value is not None}
        if away:
            names[min(away, key=away.get)] += 1
            gaps.append(min(away.values()))
    return np.array(gaps), names.most_common(1)[0][0] if names else ""


def gap_cells(gaps):
    if not np.all(np.isfinite(gaps)) or not gaps.size:
        return ("", "", "")
    return tuple(f"{value:.1f}" for value in (gaps.min(), *np.percentile(gaps, (5, 50))))


if __name__ == "__main__":
    main(sys.argv[1:])
