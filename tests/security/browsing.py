"""A server as it is reached from outside: ASGI in, ASGI out, with the cookies that a browser would send along."""

from __future__ import annotations

import asyncio
from dataclasses import dataclass, field
from http.cookies import Morsel, SimpleCookie
from urllib.parse import urlencode

from web.job_pages import Document

HOST = "127.0.0.1"


@dataclass
class Answer:
    """What came back."""

    status: int
    headers: list[tuple[str, str]]
    body: bytes

    @property
    def text(self) -> str:
        return self.body.decode("utf-8")

    def header(self, name: str) -> str:
        return next((value for key, value in self.headers if key == name), "")

    @property
    def cookies(self) -> dict[str, Morsel[str]]:
        """Those that it sets."""
        jar: SimpleCookie = SimpleCookie()
        for key, value in self.headers:
            if key == "set-cookie":
                jar.load(value)
        return dict(jar)


@dataclass
class Browser:
    """Asks one application and keeps its cookies.

    Args:
        scheme: with "https" it names its own page as the origin of a form, as browsers do.
        address: that it comes from.
    """

    app: object
    cookies: dict[str, Morsel[str]] = field(default_factory=dict)
    scheme: str = "http"
    address: str = HOST

    def ask(self, path: str, form: dict[str, str] | None = None, **headers: str) -> Answer:
        """Ask for a page, or send a form."""
        body = urlencode(form or {}).encode()
        sent = {"host": HOST}
        if form is not None and self.scheme == "https":
            sent["origin"] = f"https://{HOST}"
        if form is not None:
            sent |= {"content-type": "application/x-www-form-urlencoded", "content-length": str(len(body))}
        sent |= {name.replace("_", "-"): value for name, value in headers.items()}
        if fitting := [one for one in self.cookies.values() if path.startswith(one["path"])]:
            sent["cookie"] = "; ".join(f"{one.key}={one.value}" for one in fitting)
        where, _, query = path.partition("?")
        scope = {
            "type": "http",
            "scheme": self.scheme,
            "client": (self.address, 50000),
            "method": "GET" if form is None else "POST",
            "path": where,
            "query_string": query.encode(),
            "headers": [(name.encode(), value.encode()) for name, value in sent.items()],
            "server": (HOST, 8000),
        }
        answer = asyncio.run(self._answered(scope, body))
        self.cookies |= answer.cookies
        self.cookies = {name: one for name, one in self.cookies.items() if one.value}
        return answer

    async def _answered(self, scope: dict[str, object], body: bytes) -> Answer:
        received = [{"type": "http.request", "body": body, "more_body": False}]
        sent: list[dict[str, object]] = []

        async def receive():
            while not received:  # the browser waits for the answer and stays
                await asyncio.Event().wait()
            return received.pop()

        async def send(message):
            sent.append(message)

        await self.app(scope, receive, send)
        headers = [(name.decode(), value.decode()) for name, value in sent[0]["headers"]]
        headers = [(name.lower(), value) for name, value in headers]
        return Answer(sent[0]["status"], headers, b"".join(message.get("body", b"") for message in sent[1:]))


def form_of(page: str, ends: str) -> dict[str, str]:
    """What the form sends whose address ends so: its hidden boxes."""
    elements = Document(page).elements
    start = next(k for k, one in enumerate(elements) if (one.attributes.get("action") or "").endswith(ends))
    inside = elements[start + 1 :]
    end = next((k for k, one in enumerate(inside) if one.tag == "form"), len(inside))
    return {
        one.attributes["name"]: one.attributes.get("value") or ""
        for one in inside[:end]
        if one.tag == "input" and one.attributes.get("type") == "hidden"
    }
