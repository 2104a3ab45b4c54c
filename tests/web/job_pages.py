"""A job's page as a browser holds it: what stands in its boxes, and what it sends when something is typed."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, field
from html.parser import HTMLParser
from urllib.parse import urlencode


@dataclass
class Element:
    """One start tag with its attributes, and the text inside it."""

    tag: str
    attributes: dict[str, str | None]
    text: str = ""


class Document(HTMLParser):
    """Every element of a page, and the values of its form."""

    VOID = frozenset({"input", "meta", "link", "br", "img", "path", "rect", "circle"})

    def __init__(self, html: str) -> None:
        super().__init__()
        self.elements: list[Element] = []
        self.form: dict[str, str] = {}
        self._open: list[Element] = []
        self._select = ""
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        attributes = dict(attrs)
        element = Element(tag, attributes)
        self.elements.append(element)
        if tag not in self.VOID:
            self._open.append(element)
        in_form = attributes.get("form") == "entries" or any(
            e.attributes.get("id") == "entries" for e in self._open
        )
        name = attributes.get("name")
        if (
            in_form
            and tag == "input"
            and name
            and (attributes.get("type") != "radio" or "checked" in attributes)
        ):
            self.form[name] = attributes.get("value") or ""
        if in_form and tag == "select" and name:
            self._select = name
        if tag == "option" and self._select and (self._select not in self.form or "selected" in attributes):
            self.form[self._select] = "\0" if attributes.get("value") is None else attributes["value"]

    def handle_startendtag(self, tag, attrs):
        self.elements.append(Element(tag, dict(attrs)))

    def handle_endtag(self, tag):
        while self._open:
            element = self._open.pop()
            if element.tag == "option" and self.form.get(self._select) == "\0":
                self.form[self._select] = element.text
            if element.tag == "select":
                self._select = ""
            if element.tag == tag:
                return

    def handle_data(self, data):
        for element in self._open:
            element.text += data

    def by_id(self, name: str) -> Element:
        return next(element for element in self.elements if element.attributes.get("id") == name)

    def ids(self) -> set[str]:
        return {element.attributes["id"] or "" for element in self.elements if "id" in element.attributes}

    def by_class(self, name: str) -> list[Element]:
        return [
            element for element in self.elements if name in (element.attributes.get("class") or "").split()
        ]


@dataclass
class JobPage:
    """An open page on a job."""

    client: object
    name: str
    serial: int = 0
    step: int = 1
    form: dict[str, str] = field(default_factory=dict)
    html: str = ""

    @classmethod
    def opened(cls, client, name: str = "alder.toml") -> JobPage:
        page = cls(client, name)
        answer = client.get(f"/job/{name}/")
        assert answer.status_code == 200, answer.status_code
        page.html = answer.content.decode()
        page.form = Document(page.html).form
        return page

    @property
    def document(self) -> Document:
        return Document(self.html)

    def send(self, **other: str):
        """Send the form as the page does while somebody types."""
        self.serial += 1
        data = {**self.form, "serial": str(self.serial), "step": f"v{self.step}", **other}
        return self.client.post(
            f"/job/{self.name}/entries",
            urlencode(data),
            content_type="application/x-www-form-urlencoded",
            headers={"HX-Request": "true"},
        )

    def type(self, box: str, text: str):
        """Type into a box; the page takes over what the answer brings."""
        self.form[f"job.{box}"] = text
        return self.take(self.send())

    def take(self, answer):
        if answer.status_code == 200:
            self.html = answer.content.decode()
            self.form["base"] = self.data("version")
        return answer

    def data(self, name: str) -> str:
        return self.document.by_id("answer-data").attributes[f"data-{name}"] or ""

    @property
    def said(self) -> dict[str, dict]:
        """What has changed beside the boxes with the last answer: echoes or faults, gists, faults of sections."""
        return json.loads(self.data("said"))

    @property
    def faulty(self) -> dict[str, str]:
        """The boxes beside which faults have come to stand, and their words."""
        return {name: words for name, (words, is_faulty) in self.said["boxes"].items() if is_faulty}

    @property
    def holes(self) -> dict[str, tuple[float, float]]:
        """Center of each hole on the drawing."""
        found = re.findall(r'<circle cx="([-.\d]+)" cy="([-.\d]+)"[^>]* data-hole="(\d+)"', self.html)
        return {number: (float(x), float(y)) for x, y, number in found}
