"""HTML text, escaped, and the shell of a page that cannot ask for anything outside itself."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable
from importlib.resources import files

from packseq.drawing.canvas import Drawing
from packseq.drawing.svg import escaped

_VOID = frozenset({"input", "br", "hr", "meta"})


def tag(name: str, *content: str, **attributes: str | bool) -> str:
    """Return one element.

    Parameters
    ----------
    name
        Name of the element.
    content
        Its markup, piece by piece.
    attributes
        Escaped here. An underscore stands for a dash, ``class_`` for ``class``, ``for_`` for
        ``for``; True gives a bare attribute, False and ``""`` leave it out.
    """
    said = "".join(_attribute(key, value) for key, value in attributes.items() if value not in {"", False})
    opening = f"<{name}{said}>"
    return opening if name in _VOID else f"{opening}{''.join(content)}</{name}>"


def text(name: str, said: str, **attributes: str | bool) -> str:
    """Return one element that holds text, escaped."""
    return tag(name, escaped(said), **attributes)


def figure(drawing: Drawing, class_: str = "") -> str:
    """Return a drawing at its own size; where the screen is narrower it is moved sideways."""
    drawn = f"drawn {class_}".strip()
    return tag("figure", drawing.svg(), class_=drawn, tabindex="0", role="group", aria_label=drawing.title)


def listed(name: str, items: Iterable[str], **attributes: str | bool) -> str:
    """Return a list (``ul`` or ``ol``) of texts, escaped."""
    return tag(name, *(text("li", item) for item in items), **attributes)


def document(title: str, body: str, *, styles: Iterable[str], scripts: Iterable[str] = ()) -> str:
    """Return a whole page, self-contained.

    Its content policy lets nothing be fetched and nothing run but the scripts given, whatever
    stands in the body.

    Parameters
    ----------
    title
        Title of the page.
    body
        Markup of its body.
    styles, scripts
        Names of files in ``packseq/page/assets``.
    """
    style = "\n".join(_asset(name) for name in styles)
    script = "\n".join(_asset(name) for name in scripts)
    policy = (
        f"default-src 'none'; style-src {_allowed(style)}; img-src data:; "
        f"script-src {_allowed(script)}; base-uri 'none'; form-action 'none'"
    )
    head = (
        '<meta charset="utf-8">',
        tag("meta", http_equiv="Content-Security-Policy", content=policy),
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        text("title", title),
        f"<style>{style}</style>",
    )
    end = f"<script>{script}</script>" if script else ""
    return f'<!doctype html>\n<html lang="en"><head>{"".join(head)}</head>\n<body>{body}{end}</body></html>\n'


def _attribute(key: str, value: str | bool) -> str:  # noqa: FBT001 - True is a bare attribute
    name = key.rstrip("_").replace("_", "-")
    return f" {name}" if value is True else f' {name}="{escaped(str(value))}"'


def _asset(name: str) -> str:
    return files("packseq.page").joinpath("assets", name).read_text(encoding="utf-8")


def _allowed(content: str) -> str:
    digest = base64.b64encode(hashlib.sha256(content.encode()).digest()).decode()
    return f"'sha256-{digest}'"
