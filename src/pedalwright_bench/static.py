"""A bench as a fragment of a page that needs no kernel: native controls that swap frames drawn beforehand."""

import json
from html import escape as escape_marks
from typing import Any

from pedalwright_bench.bench import Bench, Prediction, Slider
from pedalwright_bench.sources import fingerprint
from pedalwright_bench.style import SIZE_PX
from pedalwright_bench.words import unbroken

FOLDER = "_static/benches"
NARROW_MEDIA = "(max-width: 600px)"


def escape(text: str) -> str:
    """Make text safe inside a page, and keep numbers with their units."""
    return escape_marks(unbroken(text))


class StaticBench:
    """HTML of a bench; a notebook shows it, ``html`` holds it."""

    def __init__(self, html: str) -> None:
        self.html = html

    def _repr_html_(self) -> str:
        return self.html

    def __repr__(self) -> str:
        return "<bench: a figure with sliders>"


def static(bench: Bench, folder: str = FOLDER) -> StaticBench:
    """Write the fragment of a bench.

    Parameters
    ----------
    bench : Bench
        The bench.
    folder : str
        Folder of all frames as the page reaches it.

    Returns
    -------
    StaticBench
        One ``<figure>`` with its controls, first frame and all sentences.
    """
    mark = f"bench-{bench.name}"
    address = f"{folder}/{bench.name}/{{layout}}/{{key}}.webp?v={fingerprint(bench)[:8]}"
    states = list(bench.states())
    first = "-".join(str(s.middle) for s in bench.sliders)
    results = [bench.at(*values) for _, values in states]
    sentences = [bench.say(result) for result in results]
    start = [key for key, _ in states].index(first)
    data = {
        "address": address,
        "media": NARROW_MEDIA,
        "sizes": SIZE_PX,
        "sliders": [{"said": [s.say(v) for v in s.values], "start": s.middle} for s in bench.sliders],
        "sentences": sentences,
    }
    ids = [f"{mark}-{s.name.replace('_', '-')}" for s in bench.sliders]
    parts = [
        f'<figure class="bench" id="{mark}" data-bench="{bench.name}">',
        f'<figcaption class="bench-head"><span class="bench-title">{escape(bench.title)}</span> '
        f'<span class="bench-question">{escape(bench.question)}</span></figcaption>',
        _guess(bench.prediction(results[start]), mark),
        '<div class="bench-controls">',
        *(_slider(s, i) for s, i in zip(bench.sliders, ids, strict=True)),
        '<button type="button" class="bench-reset" disabled>Reset</button>',
        "</div>",
        '<p class="bench-hint bench-without-script">The sliders need JavaScript. Without it you see the picture and '
        "the result at their starting values.</p>",
        _view(address, first, sentences[start]),
        f'<output class="bench-sentence" for="{" ".join(ids)}" aria-live="polite">{escape(sentences[start])}</output>',
        f'<p class="bench-target">{escape(bench.target)}</p>',
        _notes(bench),
        f'<script type="application/json" class="bench-data">{_json(data)}</script>',
        "</figure>",
    ]
    return StaticBench("\n".join(parts))


def _guess(prediction: Prediction, mark: str) -> str:
    choices = "".join(
        f'<label><input type="radio" name="{mark}-guess" value="{i}" autocomplete="off"> {escape(choice.text)}</label>'
        for i, choice in enumerate(prediction.choices)
    )
    replies = "".join(
        f'<p class="bench-reply" data-reply="{i}" data-right="{"yes" if choice.right else "no"}">'
        f"{escape(choice.reply)}</p>"
        for i, choice in enumerate(prediction.choices)
    )
    return (
        f'<fieldset class="bench-guess"><legend>{escape(prediction.prompt)}</legend>{choices}'
        f'<div class="bench-replies" aria-live="polite">{replies}</div></fieldset>'
    )


def _slider(slider: Slider, identity: str) -> str:
    low, high = (escape(end) for end in slider.ends)
    said = escape(slider.say(slider.default))
    return (
        f'<div class="bench-slider"><label for="{identity}">{escape(slider.label)}</label>'
        f'<span class="bench-value" aria-hidden="true">{said}</span>'
        f'<input type="range" id="{identity}" min="{slider.start:g}" max="{slider.stop:g}" step="{slider.step:g}" '
        f'value="{slider.default:g}" aria-valuetext="{said}" autocomplete="off" disabled>'
        f'<span class="bench-ends" aria-hidden="true"><span>{low}</span><span>{high}</span></span></div>'
    )


def _view(address: str, key: str, sentence: str) -> str:
    wide, narrow = (escape(address.format(layout=layout, key=key)) for layout in ("wide", "narrow"))
    (wide_x, wide_y), (narrow_x, narrow_y) = SIZE_PX["wide"], SIZE_PX["narrow"]
    return (
        '<div class="bench-view"><picture>'
        f'<source media="{NARROW_MEDIA}" srcset="{narrow}" width="{narrow_x}" height="{narrow_y}">'
        f'<img class="dark-light" src="{wide}" width="{wide_x}" height="{wide_y}" '
        f'alt="{escape(sentence)}" decoding="sync">'
        "</picture>"
        '<div class="bench-cover" hidden><p>Predict first: your choice above uncovers the picture.</p>'
        '<button type="button" class="bench-uncover">Show the picture</button></div></div>'
    )


def _notes(bench: Bench) -> str:
    rows = "".join(f"<dt>{escape(heading)}</dt><dd>{escape(text)}</dd>" for heading, text in bench.notes)
    return f'<details class="bench-notes"><summary>What this picture rests on</summary><dl>{rows}</dl></details>'


def _json(data: dict[str, Any]) -> str:
    return json.dumps(data, ensure_ascii=False, separators=(",", ":")).replace("</", "<\\/")
