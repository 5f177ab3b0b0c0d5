"""A design beside its text in a browser: problems and the board that plays, again whenever the text changes.

Served on this computer alone: bound to 127.0.0.1, every path begins with a token that nobody can guess, and what does not come
from the page itself is refused. Nothing is ever written to the design's file.
"""

import json
import os
import secrets
import sys
import threading
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

from circuit.console.watching import seen
from circuit.editor.desk import Desk
from circuit.editor.problems import Problem, problems
from circuit.mistake import Unreadable

HOST = "127.0.0.1"
PAUSE = 0.4
"""s between two looks at the files."""
WAIT = 20.0
"""s that a page waits for something new before it asks again."""
LARGEST = 4_000_000
"""Letters of a text that the page may send."""
PAGE = Path(__file__).resolve().parent / "live_page.html"
_EMPTY = "<!doctype html><title>No board yet</title><p>Nothing of this design can be drawn yet.</p>"


class Live:
    """One design served. path: its file; address: where a browser finds it, token included."""

    def __init__(self, path: str, text: str | None = None, port: int = 0) -> None:
        self.path = os.path.abspath(path)
        self.token = secrets.token_urlsafe(18)
        self.desk = Desk()
        self.news = threading.Condition()
        self.number = 0
        self.board_number = 0
        self.state: dict[str, Any] = {"number": 0}
        self.board = _EMPTY
        self._stopped = threading.Event()
        self._todo = threading.Event()
        self._typed = False
        self._lock = threading.Lock()
        if text is not None:
            self.desk.put(self.path, text)
        self.server = _Loopback((HOST, port), _Handler)
        self.server.live = self
        self.address = f"http://{HOST}:{self.server.server_address[1]}/{self.token}/"

    # --- life -------------------------------------------------------------------------------------------------------

    def start(self) -> None:
        """Serves, watches and works in threads of its own."""
        for work in (self.server.serve_forever, self._watch, self._draw):
            threading.Thread(target=work, daemon=True).start()
        self._changed()

    def stop(self) -> None:
        """Ends all of it."""
        self._stopped.set()
        self._todo.set()
        with self.news:
            self.news.notify_all()
        self.server.shutdown()
        self.server.server_close()

    def put(self, path: str, text: str, typed: bool = False) -> None:
        """A text as somebody has it in an editor, or types it into the page."""
        if os.path.abspath(path) == self.path:
            self._typed = typed
            with self._lock:
                self.desk.put(self.path, text)
            self._changed()

    def _watch(self) -> None:
        before = seen([self.path])
        while not self._stopped.wait(PAUSE):
            now = seen([self.path])
            if now != before:
                before = now
                self._typed = False
                with self._lock:
                    self.desk.take(self.path)  # what was saved counts
                self._changed()

    # --- work -------------------------------------------------------------------------------------------------------

    def _changed(self) -> None:
        """Says what is wrong now, and has the board drawn again."""
        with self._lock:
            try:
                source = self.desk.source(self.path)
                found = [self._told(one) for one in problems(self.desk, self.path)]
                text = source.text
            except Unreadable as unreadable:
                found = [{"file": "", "line": 1, "severity": "error", "code": "unreadable", "says": one.says}
                         for one in unreadable.mistakes]
                text = ""
        self._tell(text=text, problems=found, typed=self._typed, name=os.path.basename(self.path))
        self._todo.set()

    def _told(self, one: Problem) -> dict[str, Any]:
        own = "" if one.path == self.path else os.path.basename(one.path)
        return {"file": own, "line": one.at.start[0] + 1, "severity": one.severity, "code": one.code, "says": one.says}

    def _tell(self, **what: Any) -> None:
        with self.news:
            self.number += 1
            self.state = {**self.state, **what, "number": self.number, "board": self.board_number}
            self.news.notify_all()

    def _draw(self) -> None:
        """Draws the board of the latest text that is whole; a text that has changed meanwhile is drawn next."""
        while True:
            self._todo.wait()
            if self._stopped.is_set():
                return
            self._todo.clear()
            self._tell(drawing="working")
            told = self._drawn()
            self._tell(drawing=told)

    def _drawn(self) -> str:
        from circuit.draw import CannotDraw
        from circuit.report.marked import marks_of
        from circuit.report.page import page

        with self._lock:
            try:
                known = self.desk.known(self.path)
                verdict = self.desk.verdict(self.path) if not known.mistakes else None
            except Unreadable:
                return "the file cannot be read"
        if verdict is None:
            return "the text has mistakes, and what hangs on them is not decided; the board shows the design as it was before"
        try:
            board = page(verdict, marks_of(verdict))
        except CannotDraw as trouble:
            return str(trouble)
        with self.news:
            self.board, self.board_number = board, self.board_number + 1
        return ""

    def waited(self, number: int) -> dict[str, Any]:
        """The state as soon as it is another than a page has seen, or after a while."""
        with self.news:
            self.news.wait_for(lambda: self.number != number or self._stopped.is_set(), WAIT)
            return self.state


class _Loopback(ThreadingHTTPServer):
    daemon_threads = True
    live: Live

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A page that was closed meanwhile is no fault; anything else is told as one."""
        if not isinstance(sys.exc_info()[1], (ConnectionError, TimeoutError)):
            super().handle_error(request, client_address)


class _Handler(BaseHTTPRequestHandler):
    """Answers the page, and nobody else."""

    server: _Loopback
    server_version, sys_version = "airwright", ""
    timeout = 60

    def do_GET(self) -> None:
        live, rest = self.server.live, self._rest()
        if rest is None:
            self._refuse()
        elif rest == "":
            self._send(PAGE.read_text(encoding="utf-8"), "text/html")
        elif rest == "board":
            self._send(live.board, "text/html", board=True)
        elif rest.startswith("state/") and rest[6:].isdigit() and len(rest) < 20:
            self._send(json.dumps(live.waited(int(rest[6:]))), "application/json")
        else:
            self._refuse(HTTPStatus.NOT_FOUND)

    def do_POST(self) -> None:
        live, rest = self.server.live, self._rest()
        own = f"http://{HOST}:{self.server.server_address[1]}"
        length = self.headers.get("Content-Length", "")
        if rest != "text" or self.headers.get("Origin") != own:
            self._refuse()
        elif not length.isdigit() or int(length) > 4 * LARGEST:
            self._refuse(HTTPStatus.REQUEST_ENTITY_TOO_LARGE)
        else:
            try:
                text = self.rfile.read(int(length)).decode("utf-8")
            except UnicodeDecodeError:
                self._refuse(HTTPStatus.BAD_REQUEST)
                return
            live.put(live.path, text, typed=True)
            self._send("", "text/plain")

    def _rest(self) -> str | None:
        """The path behind the token; None for whoever has no token or came by another name of this computer."""
        host = f"{HOST}:{self.server.server_address[1]}"
        _, token, *rest = f"{self.path.partition('?')[0]}/".split("/", 2)
        if self.headers.get("Host") != host or not secrets.compare_digest(token.encode(), self.server.live.token.encode()):
            return None
        return rest[0].strip("/") if rest else ""

    def _send(self, text: str, sort: str, board: bool = False) -> None:
        content = text.encode("utf-8")
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", f"{sort}; charset=utf-8")
        self.send_header("Content-Length", str(len(content)))
        self.send_header("Cache-Control", "no-store")
        self.send_header("Referrer-Policy", "no-referrer")
        self.send_header("X-Content-Type-Options", "nosniff")
        inside = "'unsafe-inline' 'unsafe-eval' 'wasm-unsafe-eval' blob: data:" if board else "'self' 'unsafe-inline'"
        self.send_header("Content-Security-Policy", f"default-src {inside}; frame-ancestors 'self'")
        self.end_headers()
        self.wfile.write(content)

    def _refuse(self, status: HTTPStatus = HTTPStatus.FORBIDDEN) -> None:
        self.send_error(status)

    def log_message(self, format: str, *args: Any) -> None:
        """Nothing is logged: the address has the token in it."""
