"""The page beside the text: what it is told, and who is refused."""

import http.client
import json
import time
from pathlib import Path

import pytest

from circuit.editor.live_page import HOST, Live
from tests.designs import example_text


@pytest.fixture(scope="module")
def live(tmp_path_factory):
    path = tmp_path_factory.mktemp("live") / "board.air"
    path.write_text(example_text("teaching-board"), encoding="utf-8")
    one = Live(str(path))
    one._draw = lambda: None  # the board is drawn in the test that asks for it
    one.start()
    yield one
    one.stop()


def asked(live: Live, path: str, host: str = "", method: str = "GET", body: str | None = None, origin: str = ""):
    port = live.server.server_address[1]
    line = http.client.HTTPConnection(HOST, port, timeout=30)
    line.request(method, path, None if body is None else body.encode(),
                 {"Host": host or f"{HOST}:{port}", **({"Origin": origin} if origin else {})})
    answer = line.getresponse()
    told = answer.status, answer.read().decode(), answer.headers
    line.close()
    return told


def own(live: Live) -> str:
    return f"http://{HOST}:{live.server.server_address[1]}"


def state(live: Live, wanted) -> dict:
    number, end = 0, time.monotonic() + 60
    while time.monotonic() < end:
        found = json.loads(asked(live, f"/{live.token}/state/{number}")[1])
        number = found["number"]
        if wanted(found):
            return found
    raise AssertionError("nothing of the kind was told")


def test_the_page_and_its_state_are_for_whoever_has_the_token(live: Live):
    status, text, headers = asked(live, f"/{live.token}/")
    assert status == 200 and "<textarea" in text and headers["Cache-Control"] == "no-store"
    assert "http" not in text.replace("http-equiv", ""), "nothing is fetched from elsewhere"
    found = state(live, lambda found: found.get("problems"))
    assert [one["code"] for one in found["problems"]] == ["circuits-not-separate"] and "foot-valve" in found["text"]
    assert live.address.startswith("http://127.0.0.1:") and live.server.server_address[0] == "127.0.0.1"


@pytest.mark.parametrize("path", ["/", "/state/0", "/wrong/", "/wrong/state/0", "/wrong/board"])
def test_nobody_else_is_answered(live: Live, path: str):
    assert asked(live, path)[0] == 403
    assert asked(live, f"/{live.token}/", host="evil.example")[0] == 403, "another name of this computer"
    assert asked(live, f"/{live.token}/nothing")[0] == 404
    assert asked(live, f"/{live.token}/state/../../x")[0] == 404


def test_a_text_comes_from_the_page_itself_or_not_at_all(live: Live):
    before = Path(live.path).read_text(encoding="utf-8")
    for origin in ("", "http://evil.example", "null"):
        assert asked(live, f"/{live.token}/text", method="POST", body="x", origin=origin)[0] == 403
    text = before.replace("relay-valve relay", "rely-valve relay")
    assert asked(live, f"/{live.token}/text", method="POST", body=text, origin=own(live))[0] == 200
    found = state(live, lambda found: found["typed"])
    assert any("did you mean relay-valve?" in one["says"] for one in found["problems"]) and found["text"] == text
    assert Path(live.path).read_text(encoding="utf-8") == before, "nothing is written to the file"


def test_what_is_saved_counts(live: Live):
    text = Path(live.path).read_text(encoding="utf-8").replace("volume 46 L", "volume 4600")
    Path(live.path).write_text(text, encoding="utf-8")
    found = state(live, lambda found: found["text"] == text)
    assert not found["typed"] and any("needs a unit" in one["says"] for one in found["problems"])


@pytest.mark.slow
def test_the_board_is_of_the_last_text_that_was_whole(tmp_path):
    path = tmp_path / "board.air"
    path.write_text(example_text("teaching-board"), encoding="utf-8")
    one = Live(str(path))
    try:
        assert one._drawn() == "" and "Teaching board" in one.board and one.board_number == 1
        one.put(str(path), "vehicle x: class truck\nrely-valve r\n")
        assert "mistakes" in one._drawn() and "Teaching board" in one.board and one.board_number == 1
    finally:
        one.server.server_close()
