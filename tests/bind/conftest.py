"""A host on the network that nothing may ask."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, HTTPServer
from threading import Thread

import pytest


@dataclass
class Host:
    """A host: ``url`` as the beginning of addresses on it, ``hits`` the paths that were asked for."""

    url: str
    hits: list[str] = field(default_factory=list)

    @property
    def tempting(self) -> list[str]:
        """HTML of every kind that would have an engine fetch something from it."""
        url = self.url
        return [
            f'<img src="{url}.png">',
            f'<link rel="stylesheet" href="{url}.css">',
            f"<style>@import url({url}.css);</style>",
            f"<style>@font-face{{font-family:Z;src:url({url}.ttf)}} p{{font-family:Z}}</style><p>x</p>",
            f'<svg width="9" height="9"><image href="{url}.svg" width="9" height="9"/></svg>',
            f'<p style="background:url({url}.png)">x</p>',
        ]


@pytest.fixture
def host() -> Iterator[Host]:
    """A host of this machine that counts what it is asked for."""
    found = Host("")

    class Count(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            found.hits.append(self.path)
            self.send_response(404)
            self.end_headers()

    server = HTTPServer(("127.0.0.1", 0), Count)
    found.url = f"http://127.0.0.1:{server.server_port}/x"
    Thread(target=server.serve_forever, daemon=True).start()
    yield found
    server.shutdown()
    server.server_close()
