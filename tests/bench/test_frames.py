"""Frames: drawn once, redrawn when a source changes, and the same whatever was drawn before."""

import json

import numpy as np
import pytest
from PIL import Image

from pedalwright_bench.bench import LAYOUTS, bench, bench_names
from pedalwright_bench.canvas import Canvas
from pedalwright_bench.frames import RECORD, draw_all, frame_path, is_up_to_date, main, save_frame
from pedalwright_bench.sources import fingerprint, source_files
from pedalwright_bench.style import SIZE_PX


def draw(folder):
    return draw_all(folder, bench_names(), workers=1)


def reload_tiny():
    import sys

    from pedalwright_bench import frames

    sys.modules.pop("pedalwright_bench.benches.tiny_square")
    frames._canvas.cache_clear()


def test_frames_are_drawn_once(tiny, tmp_path, capsys):
    out = tmp_path / "frames"
    assert draw(out) == 12  # six states in two layouts
    assert "12 of 12 pictures drawn (tiny-square)" in capsys.readouterr().out
    assert draw(out) == 0
    assert "tiny-square: up to date" in capsys.readouterr().out
    for layout in LAYOUTS:
        with Image.open(frame_path(out, "tiny-square", layout, "2-1")) as image:
            assert image.size == SIZE_PX[layout]
            assert image.format == "WEBP"
    assert not list(out.rglob("*.part"))


def test_a_changed_source_is_drawn_again(tiny, tmp_path):
    out = tmp_path / "frames"
    draw(out)
    before = frame_path(out, "tiny-square", "wide", "0-0").read_bytes()
    tiny.write_text(tiny.read_text().replace("Rectangle((0, 0), 1, 1)", 'Rectangle((0, 0), 1, 1, color="green")'))
    reload_tiny()
    assert not is_up_to_date(out, bench("tiny-square"))
    assert draw(out) == 12
    assert frame_path(out, "tiny-square", "wide", "0-0").read_bytes() != before


def test_a_slider_with_fewer_values_leaves_no_old_frames(tiny, tmp_path):
    out = tmp_path / "frames"
    draw(out)
    tiny.write_text(tiny.read_text().replace('"mm", 1, 3, 1, 2', '"mm", 1, 2, 1, 2'))
    reload_tiny()
    assert draw(out) == 8
    assert len(list(out.rglob("*.webp"))) == 8


@pytest.mark.parametrize("damage", ["missing", "torn"])
def test_an_interrupted_run_is_done_again(tiny, tmp_path, damage):
    out = tmp_path / "frames"
    draw(out)
    record = out / "tiny-square" / RECORD
    record.unlink() if damage == "missing" else record.write_text("{")
    assert draw(out) == 12
    assert json.loads(record.read_text()) == {"made_from": fingerprint(bench("tiny-square")), "frames": 12}


def test_frames_of_a_removed_bench_go_and_other_files_stay(tiny, tmp_path):
    out = tmp_path / "frames"
    for name, record in (("gone-bench", True), ("not-ours", False)):
        (out / name).mkdir(parents=True)
        if record:
            (out / name / RECORD).write_text("{}")
    draw(out)
    assert sorted(p.name for p in out.iterdir()) == ["not-ours", "tiny-square"]


def test_two_processes_draw_what_one_draws(tmp_path, monkeypatch):
    # the tiny bench is not importable elsewhere, so one of ours is cut short
    monkeypatch.setattr("pedalwright_bench.frames._tasks", lambda found, folder: [
        (found.name, layout, list(found.states())[:2], folder) for layout in LAYOUTS
    ])  # fmt: skip
    for folder, workers in ((tmp_path / "one", 1), (tmp_path / "two", 2)):
        assert draw_all(folder, ["lever-tangency"], workers=workers) == 4
    for path in (tmp_path / "one").rglob("*.webp"):
        assert path.read_bytes() == (tmp_path / "two" / path.relative_to(tmp_path / "one")).read_bytes()


def test_sources_include_the_calculation_and_leave_out_the_page(tiny):
    names = {path.name for path in source_files("pedalwright_bench.benches.lever_tangency")}
    assert {"bench.py", "style.py", "canvas.py", "frames.py", "errors.py"} <= names
    assert not {"static.py", "live.py", "modes.py"} & names


def test_sources_of_the_lever_bench_follow_imports():
    names = {path.name for path in source_files("pedalwright_bench.benches.lever_tangency")}
    assert {"lever.py", "leg_weight.py", "stroke.py", "recorded.py", "draw.py", "model.py", "words.py"} <= names
    assert "pressure.py" not in names


@pytest.mark.parametrize("name", bench_names())
def test_a_frame_does_not_depend_on_what_was_drawn_before(name):
    found = bench(name)
    states = list(found.states())
    order = np.random.default_rng(3).permutation(len(states))[:12]
    wandering = {layout: Canvas(found, layout) for layout in LAYOUTS}
    reverse = {layout: Canvas(found, layout) for layout in LAYOUTS}
    for layout in LAYOUTS:
        there = {i: wandering[layout].draw(found.at(*states[i][1])).copy() for i in order}
        for i in order[::-1]:
            assert np.array_equal(there[i], reverse[layout].draw(found.at(*states[i][1]))), states[i]


@pytest.mark.parametrize("name", bench_names())
def test_no_two_frames_look_alike(name):
    found = bench(name)
    canvas = Canvas(found, "wide", dpi=30)
    assert len({canvas.draw(found.at(*values)).tobytes() for _, values in found.states()}) == len(list(found.states()))


def test_a_saved_frame_is_close_to_what_was_drawn(tmp_path):
    found = bench("lever-tangency")
    drawn = Canvas(found, "wide").image(found.at(*found.defaults))
    save_frame(drawn, tmp_path / "frame.webp")
    with Image.open(tmp_path / "frame.webp") as saved:
        apart = np.abs(np.asarray(saved.convert("RGB"), int) - np.asarray(drawn, int))
    assert apart.mean() < 0.5
    assert np.mean(apart.max(axis=-1) > 30) < 1e-3
    assert (tmp_path / "frame.webp").stat().st_size < 70_000


def test_one_picture_on_request(tmp_path, capsys):
    out = tmp_path / "new" / "picture.png"
    assert main(["--picture", "lever-tangency", str(out), "--layout", "narrow", "--values", "300", "-40"]) == 0
    with Image.open(out) as image:
        assert image.size == SIZE_PX["narrow"]


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["--picture", "lever"], "allowed: .*lever-tangency"),
        (["--picture", "lever-tangency", "--values", "205", "0"], "effort_w: received 205"),
        (["--only", "lever"], "allowed: .*lever-tangency"),
    ],
)
def test_wrong_names_and_values_are_told_without_a_traceback(tmp_path, capsys, arguments, message):
    assert main([str(tmp_path / "out.png"), *arguments]) == 2
    said = capsys.readouterr().err
    assert __import__("re").search(message, said)
    assert "Traceback" not in said
