"""Case families: their contract, their variants, where they are found."""

from autograde.cases.brief import FigurePart, Part, TaskPart, TextPart, render_brief
from autograde.cases.contract import Family, FamilyError
from autograde.cases.discover import discover_families, load_family
from autograde.cases.variants import (
    Variant,
    VariantError,
    draw_variant,
    fingerprint,
    practice_variant,
    read_secret,
    seed_of,
    seeded_variant,
    trainee_variant,
    variant_rng,
)
from autograde.marking import (
    Choice,
    ChoiceSet,
    Criterion,
    DirectedChange,
    Misconception,
    Option,
    Ordering,
    Quantity,
    Task,
    Tolerance,
    Words,
)

__all__ = [
    "Choice",
    "ChoiceSet",
    "Criterion",
    "DirectedChange",
    "Family",
    "FamilyError",
    "FigurePart",
    "Misconception",
    "Option",
    "Ordering",
    "Part",
    "Quantity",
    "Task",
    "TaskPart",
    "TextPart",
    "Tolerance",
    "Variant",
    "VariantError",
    "Words",
    "discover_families",
    "draw_variant",
    "fingerprint",
    "load_family",
    "practice_variant",
    "read_secret",
    "render_brief",
    "seed_of",
    "seeded_variant",
    "trainee_variant",
    "variant_rng",
]
