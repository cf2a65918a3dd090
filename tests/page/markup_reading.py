"""What a browser would make of a page's text."""

from __future__ import annotations

from html.parser import HTMLParser


class Seen(HTMLParser):
    """Elements with their attributes, and the text outside of scripts and styles."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.said: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        # `cdata_elem` is the script or style that the parser is inside of.
        if data.strip() and self.cdata_elem is None:
            self.said.append(data)

    @property
    def names(self) -> list[str]:
        """Names of all elements, in order."""
        return [name for name, _ in self.elements]

    @property
    def text(self) -> str:
        """All text, a line for each piece."""
        return "\n".join(self.said)
