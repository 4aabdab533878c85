"""Fuzz the reading and marking of typed answers: nothing crashes, and nothing but a readable right answer earns marks.

Whatever earns marks is read once more by a small reader of this file's own, written from the rules trainees are told
(numbers, sums and units) without the program's parser; it has to come to the same value, inside the tolerance.
`PEDALWRIGHT_FUZZ=50000` runs so many inputs over all fuzz tests; what such a run found stands in `benchmarks/fuzz.md`.
"""

import math
import os
import re
import unicodedata
from fractions import Fraction
from functools import cache

from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from autograde.cases import Choice, ChoiceSet, DirectedChange, Ordering, Quantity, discover_families, trainee_variant
from autograde.marking import State, mark_sheet, read_answer
from autograde.marking.solving import key_values, predict

INPUTS = int(os.environ.get("PEDALWRIGHT_FUZZ", "2000"))
SECRET = bytes(range(32))
FAMILIES = discover_families()


def many(share):
    """Settings of a test that takes a share of all inputs."""
    small = INPUTS <= 5000
    return settings(
        max_examples=max(20, int(share * INPUTS)),
        deadline=None,
        derandomize=small,
        database=None,
        suppress_health_check=list(HealthCheck),
    )


# A reader of our own for numbers, sums and units

LENGTH, MASS, TIME, ANGLE = ((1, 0, 0, 0), (0, 1, 0, 0), (0, 0, 1, 0), (0, 0, 0, 1))
FORCE, ENERGY, POWER, PRESSURE = ((1, 1, -2, 0), (2, 1, -2, 0), (2, 1, -3, 0), (-1, 1, -2, 0))
NONE = (0, 0, 0, 0)
# Factors of the SI brochure, 9th edition; inch and kilogram-force by definition.
UNITS = {
    "m meter metre": (1, LENGTH),
    "mm millimeter millimetre": (Fraction(1, 1000), LENGTH),
    "cm centimeter centimetre": (Fraction(1, 100), LENGTH),
    "km kilometer kilometre": (1000, LENGTH),
    "in inch inche": (Fraction(254, 10000), LENGTH),
    "kg kilo kilogram": (1, MASS),
    "g gram": (Fraction(1, 1000), MASS),
    "s sec second": (1, TIME),
    "ms millisecond": (Fraction(1, 1000), TIME),
    "min minute": (60, TIME),
    "h hr hour": (3600, TIME),
    "rad radian": (1, ANGLE),
    "° deg degree": (math.pi / 180, ANGLE),
    "turn rev revolution": (2 * math.pi, ANGLE),
    "rpm": (2 * math.pi / 60, (0, 0, -1, 1)),
    "% percent pct": (Fraction(1, 100), NONE),
    "n newton": (1, FORCE),
    "kn kilonewton": (1000, FORCE),
    "kgf kp": (Fraction(980665, 100000), FORCE),
    "nm newtonmeter newtonmetre": (1, ENERGY),
    "nmm": (Fraction(1, 1000), ENERGY),
    "ncm": (Fraction(1, 100), ENERGY),
    "j joule": (1, ENERGY),
    "kj kilojoule": (1000, ENERGY),
    "w watt": (1, POWER),
    "kw kilowatt": (1000, POWER),
    "pa pascal": (1, PRESSURE),
    "kpa kilopascal": (1000, PRESSURE),
    "mpa megapascal": (10**6, PRESSURE),
    "bar": (10**5, PRESSURE),
}
BY_NAME = {name: unit for names, unit in UNITS.items() for name in names.split()}
RAISED = {ord(a): b for a, b in zip("⁺⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "+-0123456789", strict=True)}


class NotReadError(Exception):
    """The own reader cannot make a value of a text."""


def plain_signs(text):
    """One sign for each operation, digits in a row."""
    text = re.sub("[⁺⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+", lambda found: "^" + found[0].translate(RAISED), text)
    text = re.sub("[½¼¾⅓⅔⅛⅜⅝⅞]", lambda found: f" {unicodedata.normalize('NFKC', found[0])} ", text)
    text = unicodedata.normalize("NFKC", text).replace("⁄", "/")
    for signs, sign in (("−–—‐‑", "-"), ("×·⋅", "*"), ("÷∕", "/")):
        text = re.sub(f"[{signs}]", sign, text)
    return " ".join(text.replace("**", "^").split())


def own_number(text):
    """A number with either decimal sign and marks between thousands."""
    mantissa, _, exponent = text.lower().partition("e")
    mantissa = re.sub(r"[ '’]", "", mantissa).rstrip(".,")
    marks = re.sub(r"\d", "", mantissa)
    if len(set(marks)) == 2:
        if marks.count(marks[-1]) > 1:
            raise NotReadError(text)
        mantissa = mantissa.replace(marks[0], "").replace(marks[-1], ".")
    elif len(marks) > 1:
        mantissa = mantissa.replace(marks[0], "")
    value = Fraction(mantissa.replace(",", ".") or "x") if re.fullmatch(r"[\d.,]+", mantissa) else None
    if value is None or len(exponent) > 8:
        raise NotReadError(text)
    return float(value) * 10.0 ** int(exponent or 0)


class OwnSum:
    """Sums by recursive descent: + and -, then * and /, then signs, then powers."""

    TOKEN = re.compile(
        r"\s*(?:(?P<mixed>\d+ +\d+ ?/ ?\d+)(?![\d.,])|"
        r"(?P<number>(?:(?:\d{1,3}(?: \d{3})+(?![\d/])|\d)[\d.,'’]*|[.,]\d+)(?:[eE][+-]?\d+)?)|"
        r"(?P<sign>[-+*/^()x]))"
    )

    def __init__(self, text):
        self.tokens, at = [], 0
        while at < len(text.rstrip()):
            found = self.TOKEN.match(text, at)
            if not found or found.end() == at:
                raise NotReadError(text)
            self.tokens.append((found.lastgroup, found[found.lastgroup].replace("x", "*")))
            at = found.end()
        self.at = 0

    def value(self):
        result = self.terms()
        if self.at < len(self.tokens):
            raise NotReadError
        return result

    def next_is(self, signs):
        return self.at < len(self.tokens) and self.tokens[self.at][0] == "sign" and self.tokens[self.at][1] in signs

    def take(self):
        if self.at >= len(self.tokens):
            raise NotReadError
        self.at += 1
        return self.tokens[self.at - 1]

    def terms(self):
        result = self.factors()
        while self.next_is("+-"):
            result += self.factors() if self.take()[1] == "+" else -self.factors()
        return result

    def factors(self):
        result = self.signed()
        while self.next_is("*/"):
            result = result * self.signed() if self.take()[1] == "*" else result / self.signed()
        return result

    def signed(self):
        if self.next_is("+-"):
            return self.signed() if self.take()[1] == "+" else -self.signed()
        base = self.atom()
        if self.next_is("^"):
            self.take()
            return float(base) ** self.signed()
        return base

    def atom(self):
        group, text = self.take()
        if group == "number":
            return own_number(text)
        if group == "mixed":
            whole, part, below = re.findall(r"\d+", text)
            return int(whole) + int(part) / int(below)
        if text == "(":
            result = self.terms()
            if self.take() != ("sign", ")"):
                raise NotReadError
            return result
        raise NotReadError(text)


def own_unit(text):
    """Factor and dimension of a unit."""
    text = re.sub(r"\bper cent\b", "%", text.lower())
    text = re.sub(r"\bper\b|(?<=[a-z])p(?=/)", "/", text).replace("º", "°")
    text = re.sub(r"^1\s*/", "/", text)
    if re.fullmatch(r"/\s*min", text):
        text = "rpm"
    factor, dimension, way, at = 1.0, NONE, 1, 0
    for found in re.finditer(r"([a-z°%]+)\s*\^?\s*(-?\d)?|([/*.•∙-])|\s+", text):
        if found.start() != at:
            raise NotReadError(text)
        at = found.end()
        if found[3]:
            way = -1 if found[3] == "/" else way
        elif found[1]:
            unit = BY_NAME.get(found[1]) or BY_NAME.get(found[1].removesuffix("s"))
            if unit is None:
                raise NotReadError(text)
            power = way * int(found[2] or 1)
            factor *= float(unit[0]) ** power
            dimension = tuple(a + power * b for a, b in zip(dimension, unit[1], strict=True))
    if at != len(text):
        raise NotReadError(text)
    return factor, dimension


def own_values(text, wanted):
    """Every value the text may be read as, in the wanted unit; none at all when it is no number with its unit."""
    try:
        last = plain_signs(text).split("=")[-1].strip()
        last = re.sub(r"^(?:[≈~=]|about|approximately|approx\.?|circa|ca\.?|roughly|around)\s*", "", last, flags=re.I)
        last = last.rstrip(" .;,").lstrip()
        found = re.match(r"(?:[\d.,'’+*/^() -]|[eE](?=[+-]?\d)|(?<=[\d) ])x(?= *[\d(]))*", last)
        number, unit = found[0].rstrip(" *"), last[found.end() :].strip()
        if unit and re.search(r"(?:\b1 *)?/ *$", number):
            number, unit = re.sub(r"(?:(?<![\d.,])1 *)?/ *$", "", number), "/" + unit
        value = float(OwnSum(number).value())
        factor, dimension = own_unit(wanted)
        if not unit:
            return [value, 100 * value] if wanted == "%" else [value]
        given_factor, given_dimension = own_unit(unit)
        return [value * given_factor / factor] if given_dimension == dimension else []
    except (NotReadError, ArithmeticError, ValueError, TypeError):
        return []


# Inputs: right answers, spoilt in many ways, and nonsense

CODE = (
    "9**9**9", "1e999", "nan", "inf", "-inf", "NaN N m", "infinity", "__import__('os').system('true')",
    "(lambda: 41)()", "[41]", "{41}", "41 if True else 0", "41;42", "print(41)", "0x29", "0b101001", "41j", "1_000",
    "True", "None", "''", "1/0", "0**-1", "(-8)^0.5", "10**400", "1e308*10", "9^9^9", "((((((((((41))))))))))",
    "1" * 400, "41" + " " * 400,
)  # fmt: skip
MARKUP = (
    "<b>{}</b>", "<script>{}</script>", "${}$", "`{}`", "**{}**", "[{}](x)", "<!-- {} -->", "{{{{{}}}}}", "{{% {} %}}",
    "# {}", "\\frac{{{}}}{{1}}", "&#52;{}", "{}<br>", '"{}"', "=HYPERLINK({})", "{} <img src=x onerror=alert(1)>",
)  # fmt: skip
WORDINGS = (
    "{} or {}", "{} to {}", "{}-{}", "{} – {}", "{}, {}", "{} {}", "{} and {}", "{} ± {}", "not {} but {}", "{} = {}",
    "between {} and {}", "{}\n{}", "{}; {}", "> {} < {}", "{} ({})", "{} x {}", "{} + 0 * {}", "{}/{}", "{} {}%",
)  # fmt: skip
UNIT_ABUSE = (
    "furlong", "N", "m", "kg", "mm", "cm", "°", "deg", "rad", "%", "W", "J", "kPa", "N m^2", "N/m", "m m", "m/m",
    "N m N", "mm mm", "N m s", "kN mm", "1/N", "per N", "N^9", "N m m^-1", "nM", "Nm.", "N. m", "N*m",
    "ﾐﾘ", "㎜", "㎏", "℃", "Ω",
)  # fmt: skip
ARABIC = {ord(str(digit)): chr(0x660 + digit) for digit in range(10)}
BOLD = {ord(str(digit)): chr(0x1D7CE + digit) for digit in range(10)}
ODD = "\0\x07\x1b\x7f\u200b\u200d\u202e\u2066\ufeff\ud800\u00a0\u202f\t\r\v\x85\u2028\u0301\U0001f6b2"


def odd_letters():
    return st.sampled_from("0123456789.,+-*/^()=eEx %°Nmkgcswradj'’−–×·½²³<>&#`$_" + ODD)


@st.composite
def spoilt(draw, right, other):
    """A right answer, written well or spoilt."""
    text = draw(st.sampled_from(right))
    for _ in range(draw(st.integers(0, 3))):
        way = draw(st.integers(0, 10))
        at = draw(st.integers(0, max(0, len(text))))
        upto = min(len(text), at + draw(st.integers(0, 6)))
        if way == 0:
            text = text[:at] + draw(odd_letters()) + text[at:]
        elif way == 1:
            text = text[:at] + text[upto:]
        elif way == 2:
            text = text[:at] + text[at:upto] * 2 + text[upto:]
        elif way == 3:
            text = draw(st.sampled_from(MARKUP)).format(text)
        elif way == 4:
            text = draw(st.sampled_from(WORDINGS)).format(text, draw(st.sampled_from((*right, *other))))
        elif way == 5:
            text = re.sub(r"[A-Za-z°%].*$", "", text) + draw(st.sampled_from(UNIT_ABUSE))
        elif way == 6:
            text = text.translate(draw(st.sampled_from([ARABIC, BOLD, {ord("."): ","}, {ord("-"): "−"}])))
        elif way == 7:
            text = text[:at] + draw(st.sampled_from(CODE)) + text[upto:]
        elif way == 8:
            text = draw(st.sampled_from(["about ", "= ", "~", "not ", "-", "- ", "+", "0 + ", "1 * ", "1e0 * "])) + text
        elif way == 9:
            text = text + draw(
                st.sampled_from([" ", "\n", "!", "?", " each", " approx", "\n\n", " e3", "e3", "^2", " %"])
            )
        else:
            text = draw(st.sampled_from([str.upper, str.lower, str.title, str.swapcase]))(text)
    return text


def nonsense():
    return st.one_of(
        st.sampled_from(CODE),
        st.text(odd_letters(), max_size=24),
        st.text(max_size=40),
        st.builds(lambda a, b: f"{a!r} {b}", st.floats(), st.sampled_from(UNIT_ABUSE)),
        st.builds(lambda a, b: f"{a} {b}", st.integers(), st.sampled_from(UNIT_ABUSE)),
        st.builds(lambda form, a: form.format(a), st.sampled_from(MARKUP), st.sampled_from(CODE)),
    )


@cache
def case_of(name, number):
    variant = trainee_variant(FAMILIES[name], SECRET, f"trainee-{number}")
    return variant, key_values(variant.family.tasks, variant.case)


def tasks_of(*kinds):
    return [
        (name, task.id) for name, family in FAMILIES.items() for task in family.tasks if isinstance(task.kind, kinds)
    ]


def worth(variant, key, task):
    """Values that earn marks: the right one, and slips with a credit."""
    values = [key[task.id]]
    for slip in variant.family.misconceptions:
        if slip.task == task.id and slip.credit > 0:
            value = predict(slip, task, variant.case, key)
            values += [] if value is None else [value]
    return values


def mark_one(variant, task, text):
    """Mark a sheet that holds one answer, and see that the result holds together."""
    reading = read_answer(task.kind, text)
    assert (reading.value is None) == bool(reading.reason)
    assert not isinstance(reading.value, float) or math.isfinite(reading.value)
    assert not re.search(r"[<>\x00-\x08\x0b-\x1f\x7f\u202e\u2066]", reading.reason + reading.read_as)
    result = mark_sheet(variant.family.tasks, variant.family.misconceptions, variant.case, {task.id: text})
    for each in result.results:
        assert (each.marks is None) == (each.state is State.NOT_GRADABLE)
        assert each.marks is None or 0 <= each.marks <= each.max_marks
        assert each.task == task.id or each.marks is None
    event(f"{result[task.id].state}{', with marks' if result[task.id].marks else ''}")
    return result[task.id]


def spellings(value, unit):
    return [
        f"{value:.4g} {unit}",
        f"{value:.6g}{unit}",
        f"{value:.3f} {unit}".replace(".", ","),
        f"{value:.5g}",
        f"2 * {value / 2:.6g} {unit}",
        f"{value * 3:.6g} / 3 {unit}",
        f"{value - 1:.5f} + 1 {unit}",
        f"{value / 1000:.7g}e3 {unit}",
    ]


@many(0.4)
@given(st.data())
def test_only_readable_right_numbers_earn_marks(data):
    name, task_id = data.draw(st.sampled_from(tasks_of(Quantity)))
    variant, key = case_of(name, data.draw(st.integers(0, 3)))
    task = variant.family.task(task_id)
    unit, right = task.kind.unit, key[task_id]
    text = data.draw(st.one_of(spoilt(spellings(right, unit), spellings(1.3 * right + 7, unit)), nonsense()))
    result = mark_one(variant, task, text)
    if result.marks:
        read = own_values(text, unit)
        near = [
            (value, target)
            for value in read
            for target in worth(variant, key, task)
            if abs(value - target) <= task.kind.tolerance.half_width(target) * (1 + 1e-6)
        ]
        assert near, (name, task_id, text, right, read, result.reason)


@many(0.1)
@given(st.data())
def test_only_readable_right_changes_earn_marks(data):
    name, task_id = data.draw(st.sampled_from(tasks_of(DirectedChange)))
    variant, key = case_of(name, data.draw(st.integers(0, 3)))
    task = variant.family.task(task_id)
    kind, right = task.kind, key[task_id]
    ways = (kind.positive, kind.negative) if right > 0 else (kind.negative, kind.positive)
    well = [f"{ways[0][0]} {each}" for each in spellings(abs(right), kind.unit)]
    wrong = [f"{ways[1][0]} {abs(right):.4g} {kind.unit}", f"{abs(right):.4g} {kind.unit} {ways[1][-1]}", "no change"]
    text = data.draw(st.one_of(spoilt(well, wrong), nonsense()))
    result = mark_one(variant, task, text)
    if result.marks:
        assert own_changes(text, kind, worth(variant, key, task)), (name, task_id, text, right, result.reason)


def own_changes(text, kind, targets):
    """Whether some target is named by direction and size, and no opposite direction."""
    words = [word.strip(".,").lower() for word in plain_signs(text).split()]
    up, down = (any(word in names for word in words) for names in (kind.positive, kind.negative))
    fillers = {"by", "the", "saddle", "cleat", "it", "move", "shift", "go", "further", "about", "change"}
    rest = " ".join(
        word
        for word in plain_signs(text).split()
        if word.strip(".,").lower() not in {*kind.positive, *kind.negative} and word.lower() not in fillers
    )
    for value in own_values(rest, kind.unit):
        for target in targets:
            signed = -value if down else value
            named = (up != down) or value < 0 or rest.lstrip().startswith("+")
            if named and abs(signed - target) <= kind.tolerance.half_width(target) * (1 + 1e-6):
                return True
    no_change = not re.search(r"\d", text) and any(abs(t) <= kind.tolerance.half_width(t) for t in targets)
    return no_change


@many(0.2)
@given(st.data())
def test_only_the_named_options_earn_marks(data):
    name, task_id = data.draw(st.sampled_from(tasks_of(Choice, ChoiceSet, Ordering)))
    variant, key = case_of(name, data.draw(st.integers(0, 3)))
    task = variant.family.task(task_id)
    labels = {option.key: label for label, option in task.kind.labelled()}
    right, others = named(task, key[task_id]), [labels[each] for each in labels]
    wordy = [option.text for option in task.kind.options]
    text = data.draw(st.one_of(spoilt(right, [*others, *wordy]), nonsense(), st.sampled_from([*others, *wordy])))
    result = mark_one(variant, task, text)
    if result.marks:
        assert own_options(task.kind, text, worth(variant, key, task)), (name, task_id, text, right, result.reason)


def named(task, value):
    """Ways to name the right options."""
    options = {option.key: (label, option.text) for label, option in task.kind.labelled()}
    keys = [value] if isinstance(value, str) else sorted(value) if isinstance(value, frozenset) else list(value)
    if not keys:
        return ["none", "nothing"]
    letters = [options[each][0] for each in keys]
    return [", ".join(letters), " and ".join(letters), "".join(letters), ", ".join(options[each][1] for each in keys)]


def own_options(kind, text, targets):
    """Whether the text's words or labels, in order, are those of something that is worth marks."""
    said = re.findall(r"[^\W_]+", unicodedata.normalize("NFKC", text).casefold())
    labels = {label.casefold(): option.key for label, option in kind.labelled()}
    for target in targets:
        keys = [target] if isinstance(target, str) else list(target)
        by_words = all(
            any(" ".join(re.findall(r"[^\W_]+", wording.casefold())) in " ".join(said) for wording in wordings)
            for option in kind.options
            if option.key in keys
            for wordings in [(option.text, option.key, *option.also)]
        )
        run = list(said[0]) if len(said) == 1 and not isinstance(kind, Choice) and not kind.numbered else said
        by_label = [labels[re.sub(r"(?<=\d)(?:st|nd|rd|th)$", "", word)] for word in run if label_like(word, labels)]
        if isinstance(kind, Choice):
            fits = by_label[:1] == keys
        elif isinstance(kind, Ordering):
            fits = keys in (by_label, by_label[::-1])
        else:
            fits = set(by_label) == set(keys)
        if by_words or fits:
            return True
    return False


def label_like(word, labels):
    return re.sub(r"(?<=\d)(?:st|nd|rd|th)$", "", word) in labels
