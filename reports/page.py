"""A page's view in; one self-contained HTML text out, that asks the network for nothing.

The chart library is embedded once. A content policy of script hashes lets only it and the page's own start script run:
markup in a name, even if it escaped the template, could not.
"""

import base64
import hashlib
from dataclasses import dataclass
from functools import cache

import vl_convert
from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from reports.charts.look import Chart, as_json


@dataclass(frozen=True)
class Script:
    """The text of a script that may stand in a page, and its hash for the content policy."""

    text: str
    sha256: str


def render(name: str, *, title: str, view: object) -> str:
    """Return the page of a template.

    Parameters
    ----------
    name : template file name.
    title : document title.
    view : what the template prints; its charts are `reports.charts.look.Chart`.
    """
    library, start = _scripts()
    return (
        _environment()
        .get_template(name)
        .render(
            title=title,
            view=view,
            style=Markup(_resource("style.css")),  # noqa: S704 - our own file
            library=Markup(library.text),  # noqa: S704 - the chart library
            start=Markup(start.text),  # noqa: S704 - our own file
            policy=_policy(library, start),
        )
    )


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=PackageLoader("reports"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["spec"] = _spec
    return environment


def _spec(chart: Chart) -> Markup:
    """Return a chart's specification; `as_json` leaves no character that could end the script element."""
    return Markup(as_json(chart.spec))  # noqa: S704


@cache
def _scripts() -> tuple[Script, Script]:
    """Return the chart library and the start script; the library takes a second to make, so once a process."""
    return _script(vl_convert.javascript_bundle("window.vegaEmbed=vegaEmbed;")), _script(_resource("start.js"))


def _script(text: str) -> Script:
    if "</script" in text.lower() or "<!--" in text:
        message = "a script that holds a closing tag or a comment opening cannot stand in a page"
        raise ValueError(message)
    digest = hashlib.sha256(text.encode()).digest()
    return Script(text, base64.b64encode(digest).decode())


def _policy(*scripts: Script) -> str:
    """Return the content policy: nothing from anywhere, our scripts by hash, styles in the page, images from data."""
    hashes = " ".join(f"'sha256-{script.sha256}'" for script in scripts)
    return (
        f"default-src 'none'; script-src {hashes}; style-src 'unsafe-inline'; img-src data:; "
        "base-uri 'none'; form-action 'none'"
    )


@cache
def _resource(name: str) -> str:
    loader = PackageLoader("reports")
    return loader.get_source(_environment(), name)[0]
