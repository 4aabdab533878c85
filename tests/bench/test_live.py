"""Live benches: only the newest of many events is drawn, and the same picture as the frames show."""

import asyncio
import base64
import io
import os
import re
import time

import numpy as np
import pytest
from jupyter_client.manager import start_new_kernel
from PIL import Image

from pedalwright_bench.bench import bench
from pedalwright_bench.canvas import Canvas
from pedalwright_bench.live import DPI, STALE, Latest, LiveBench

BENCH = bench("lever-tangency")


@pytest.fixture
def live():
    return LiveBench(BENCH)


def picture_of(live):
    coded = re.search(r"base64,([^\"]+)\"", live.picture.value)[1]
    return Image.open(io.BytesIO(base64.b64decode(coded))).convert("RGB")


def test_live_and_frames_agree_on_fifty_inputs(live):
    states = list(BENCH.states())
    frames = Canvas(BENCH, "wide", dpi=DPI)
    for i in np.random.default_rng(11).permutation(len(states))[:50]:
        values = states[i][1]
        for slider, value in zip(live.sliders, values, strict=True):
            slider.value = value
        results = BENCH.at(*values)
        assert live.sentence.value == BENCH.say(results)
        assert f'alt="{BENCH.say(results)}"' in live.picture.value
        drawn = np.asarray(frames.image(results), int)
        assert np.abs(np.asarray(picture_of(live), int) - drawn).mean() < 3  # the live picture is compressed with loss


def test_the_picture_is_covered_until_the_guess_the_button_or_a_slider(live):
    assert live.shown.layout.display == "none"
    live.guess.index = 2
    assert live.shown.layout.display is None
    assert "only loads it" in live.reply.value
    second, third = LiveBench(BENCH), LiveBench(BENCH)
    second.uncover.click()
    third.sliders[0].value = 300
    assert second.shown.layout.display is third.shown.layout.display is None


def test_reset_goes_back(live):
    before = live.sentence.value
    live.sliders[0].value, live.sliders[1].value = 300, -40
    assert live.sentence.value != before
    live.reset.click()
    assert live.sentence.value == before


def test_a_burst_of_events_is_drawn_once_or_twice_and_ends_on_the_newest(live):
    drawn = []
    redraw = live._latest._work
    live._latest._work = lambda *values: (drawn.append(values), redraw(*values))

    async def drag():
        for value in live.sliders[1].options:
            live.sliders[1].value = value[1]
        assert STALE in live.picture._dom_classes
        assert drawn == []
        await asyncio.sleep(0.5)

    asyncio.run(drag())
    assert 1 <= len(drawn) <= 2
    assert drawn[-1] == (200.0, 40.0)
    assert STALE not in live.picture._dom_classes
    assert live.sentence.value == BENCH.say(BENCH.at(200, 40))


def test_what_is_asked_while_at_work_is_done_afterwards():
    done = []

    async def run():
        latest = Latest(done.append, pause_s=0)
        latest.ask(1)
        await asyncio.sleep(0.02)
        latest.ask(2)
        latest.ask(3)
        await asyncio.sleep(0.02)

    asyncio.run(run())
    assert done == [1, 3]


def test_outside_a_loop_the_work_is_done_at_once():
    done = []
    Latest(done.append).ask("now")
    assert done == ["now"]


def test_in_a_kernel_a_dragged_slider_ends_on_its_last_place_with_few_pictures():
    environment = {**os.environ, "PEDALWRIGHT_LIVE": "1"}
    environment.pop("PEDALWRIGHT_BOOK", None)
    manager, client = start_new_kernel(env=environment)
    try:
        said = []
        client.execute_interactive(
            "from pedalwright_bench import show\nbench = show('lever-tangency')\n"
            "print(bench.sliders[1].model_id, bench.picture.model_id, bench.sentence.model_id)",
            output_hook=lambda m: said.append(m["content"].get("text", "")),
            timeout=60,
        )
        slider, picture, sentence = "".join(said).split()[-3:]
        for index in range(9):
            content = {
                "comm_id": slider,
                "data": {"method": "update", "state": {"index": index}, "buffer_paths": []},
            }
            client.shell_channel.send(client.session.msg("comm_msg", content))
        pictures, last, until = 0, "", time.monotonic() + 20
        expected = BENCH.say(BENCH.at(200, 40))
        while last != expected and time.monotonic() < until:
            message = client.get_iopub_msg(timeout=20)
            state = message["content"].get("data", {}).get("state", {}) if message["msg_type"] == "comm_msg" else {}
            if "value" in state and message["content"]["comm_id"] == picture:
                pictures += 1
            if "value" in state and message["content"]["comm_id"] == sentence:
                last = state["value"]
        assert last == expected
        assert 1 <= pictures < 9
    finally:
        client.stop_channels()
        manager.shutdown_kernel(now=True)
