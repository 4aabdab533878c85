"""The socket of a page takes questions about benches from its own origin, and nothing else."""

import asyncio
import http.client
import json
import struct
from concurrent.futures import ThreadPoolExecutor

import pytest
import websockets

from pedalwright_app.course.socket import FIELDS, question_in
from pedalwright_bench.bench import bench

QUESTION = {"ask": 1, "bench": "wedge", "values": [3, 1.5, 95], "layout": "wide", "pixels": 600}


def talk(course, *messages, token=True, until=None, **headers):
    """Send messages after the kernel is ready; returns what was said until a text or picture has ``until``."""

    async def go():
        heard = []
        if token:
            headers["Authorization"] = f"token {course.token}"
        address = f"ws://127.0.0.1:{course.port}/course/live"
        async with websockets.connect(address, additional_headers=headers, max_size=None) as line:
            async with asyncio.timeout(60):
                while not heard or heard[-1] != {"state": "ready"}:
                    heard.append(json.loads(await line.recv()))
                for message in messages:
                    await line.send(message)
                while until is not None:
                    heard.append(await line.recv())
                    if until(heard[-1]):
                        return heard
        return heard

    # A thread of its own: in a process that has driven a browser, an event loop runs in this one already.
    with ThreadPoolExecutor(1) as own:
        return own.submit(asyncio.run, go()).result()


def unpacked(answer):
    (length,) = struct.unpack("<I", answer[:4])
    return json.loads(answer[4 : 4 + length]), answer[4 + length :]


def test_a_question_gets_sentence_words_and_picture(course):
    answer = talk(course, json.dumps(QUESTION), until=lambda said: isinstance(said, bytes))[-1]
    about, picture = unpacked(answer)
    found = bench("wedge")
    assert about["sentence"] == found.say(found.at(3, 1.5, 95))
    assert about["ask"] == 1
    assert picture.startswith(b"\xff\xd8")


def test_answers_come_for_many_questions_at_once_each_with_its_number(course):
    asked = [json.dumps({**QUESTION, "ask": i, "values": [0, i / 10, 95]}) for i in range(10)]
    heard = []

    def enough(said):
        heard.append(unpacked(said)[0])
        return len(heard) == 10

    talk(course, *asked, until=enough)
    assert sorted(about["ask"] for about in heard) == list(range(10))
    found = bench("wedge")
    for about in heard:
        assert about["said"][1] == found.sliders[1].say(round(0.3 * round(about["ask"] / 3), 9))


@pytest.mark.parametrize(
    "nonsense",
    ["", "[]", "{}", "null", '{"bench": 3, "values": []}', '{"bench": "wedge"}', "x" * 3000, b"\0\1"],
)
def test_nonsense_ends_the_connection(course, nonsense):
    with pytest.raises(websockets.ConnectionClosed) as closed:
        talk(course, nonsense, until=lambda _: False)
    assert closed.value.rcvd.code == 1008


def test_a_message_of_the_notebook_protocol_runs_nothing(course):
    run = {
        "header": {"msg_type": "execute_request", "msg_id": "1", "username": "", "session": "", "version": "5.3"},
        "channel": "shell",
        "content": {"code": "open('/tmp/pedalwright-owned', 'w')", "silent": False},
    }
    with pytest.raises(websockets.ConnectionClosed):
        talk(course, json.dumps(run), until=lambda _: False)


def test_only_the_fields_of_a_question_go_to_the_kernel():
    said = question_in(json.dumps({**QUESTION, "code": "import os", "number": 7, "target_name": "other"}))
    assert set(said) == set(FIELDS)


def signed_in(course):
    """Cookies of a browser that opened the printed address."""
    line = http.client.HTTPConnection("127.0.0.1", course.port, timeout=10)
    line.request("GET", f"/course/?token={course.token}")
    cookies = line.getresponse().headers.get_all("Set-Cookie")
    line.close()
    return "; ".join(cookie.partition(";")[0] for cookie in cookies)


def test_a_browser_that_signed_in_is_let_in_from_its_own_pages_only(course):
    cookies, own = signed_in(course), f"http://127.0.0.1:{course.port}"
    assert talk(course, token=False, Cookie=cookies, Origin=own)[-1] == {"state": "ready"}
    with pytest.raises(websockets.InvalidStatus) as refused:
        talk(course, token=False, Cookie=cookies, Origin="http://elsewhere.example")
    assert refused.value.response.status_code == 403


@pytest.mark.parametrize("headers", [{}, {"Cookie": "username-127-0-0-1=forged"}])
def test_strangers_are_refused(course, headers):
    with pytest.raises(websockets.InvalidStatus) as refused:
        talk(course, token=False, **headers)
    assert refused.value.response.status_code == 403


def test_all_pages_share_one_kernel(course):
    talk(course)
    talk(course)
    assert len(course.kernels()) == len(course.listed_kernels()) == 1


def test_trouble_is_told_and_the_connection_stays(course):
    said = talk(
        course,
        json.dumps({**QUESTION, "values": [99, 0, 95]}),
        json.dumps(QUESTION),
        until=lambda said: isinstance(said, bytes) and b"trouble" not in said[:200],
    )
    about, picture = unpacked(next(s for s in said if isinstance(s, bytes)))
    assert "allowed: -3 to 3" in about["trouble"]
    assert picture == b""
