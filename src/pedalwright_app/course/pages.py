"""The built book's files: signed in, from one folder, with a policy that knows no other origin."""

from __future__ import annotations

import base64
import hashlib
import mimetypes
import re
from pathlib import Path
from urllib.parse import urlencode

from jupyter_server.auth.decorator import allow_unauthenticated, authorized
from jupyter_server.base.handlers import JupyterHandler
from tornado import web

SCRIPT, STYLE = "_static/bench-live.js", "_static/bench-live.css"
ADDED = f'<link rel="stylesheet" href="{STYLE}"><script defer src="{SCRIPT}"></script></body>'
LIVE_WHERE = ('class="bench"', 'id="search-results"')
INLINE = re.compile(r"<script(?![^>]*\b(?:src|type)=)[^>]*>(.*?)</script>", re.DOTALL)
TYPES = {
    ".css": "text/css; charset=utf-8",
    ".html": "text/html; charset=utf-8",
    ".ico": "image/vnd.microsoft.icon",
    ".jpg": "image/jpeg",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json; charset=utf-8",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".txt": "text/plain; charset=utf-8",
    ".webp": "image/webp",
    ".woff": "font/woff",
    ".woff2": "font/woff2",
}
A_YEAR_S = 365 * 24 * 3600


def made_live(html: str) -> str:
    """Add the live script to a page that shows a bench, and to the search; other pages stay as they are."""
    if not any(mark in html for mark in LIVE_WHERE):
        return html
    before, end, after = html.rpartition("</body>")
    return before + ADDED + after if end else html


def policy(html: str, host: str) -> str:
    """Write the content security policy of a page: its own origin only, and inline scripts by their hash.

    Parameters
    ----------
    html : str
        The page.
    host : str
        Host and port as the browser names them, for the page's own socket.

    Returns
    -------
    str
        Value of the header.
    """
    digests = {base64.b64encode(hashlib.sha256(code.encode()).digest()).decode() for code in INLINE.findall(html)}
    hashes = [f"'sha256-{digest}'" for digest in sorted(digests)]
    safe_host = host if re.fullmatch(r"[\w.\-:\[\]]+", host) else ""
    sockets = f" ws://{safe_host} wss://{safe_host}" if safe_host else ""
    return "; ".join(
        [
            "default-src 'none'",
            " ".join(["script-src 'self'", *hashes]),
            "style-src 'self' 'unsafe-inline'",
            "img-src 'self' data: blob:",
            "font-src 'self'",
            f"connect-src 'self'{sockets}",
            "form-action 'self'",
            "base-uri 'none'",
            "frame-ancestors 'self'",
        ]
    )


class _Files(JupyterHandler, web.StaticFileHandler):
    """Files of the book's folder, and of no other."""

    auth_resource = "course"

    @property
    def content_security_policy(self) -> str:
        """Policy of everything that is not a page, and of errors."""
        return "default-src 'none'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; frame-ancestors 'self'"

    def write_error(self, status_code: int, **_: object) -> None:
        """Say in plain words what is the matter."""
        said = (
            "This page is not in the book."
            if status_code in {403, 404}
            else "The course server could not send this page."
        )
        start = f"{self.base_url.rstrip('/')}/course/"
        self.set_header("Content-Type", TYPES[".html"])
        self.finish(f'<!doctype html><html lang="en"><title>{said}</title><p>{said} <a href="{start}">To the start</a>')

    def validate_absolute_path(self, root: str, absolute_path: str) -> str | None:
        """Refuse what lies outside the folder, behind a link that leads outside, or is hidden."""
        if "\0" in absolute_path:
            raise web.HTTPError(404)
        inside = super().validate_absolute_path(root, absolute_path)
        if inside is None:
            return None
        real, top = Path(inside).resolve(), Path(root).resolve()
        if not real.is_relative_to(top) or any(part.startswith(".") for part in real.relative_to(top).parts):
            raise web.HTTPError(404)
        return str(inside)

    def get_content_type(self) -> str:
        """Type by the name's ending, the same on every machine."""
        ending = Path(self.absolute_path or "").suffix.lower()
        return TYPES.get(ending) or mimetypes.guess_type(f"x{ending}")[0] or "application/octet-stream"

    def compute_etag(self) -> str:
        """Mark of a file's state; it changes when the book is built anew while the server runs."""
        about = Path(self.absolute_path or "").stat()
        return f'"{about.st_mtime_ns:x}-{about.st_size:x}"'

    def set_extra_headers(self, path: str) -> None:
        """Keep files whose address names their content; ask again for all others."""
        named = any(name in self.request.query_arguments for name in ("v", "digest"))
        self.set_header("Cache-Control", f"private, max-age={A_YEAR_S}, immutable" if named else "private, no-cache")
        self.set_header("Referrer-Policy", "same-origin")


class FontHandler(_Files):
    """Fonts are the same for everyone and hold no secret; browsers fetch them in a way that a hub takes for foreign."""

    @allow_unauthenticated
    async def get(self, path: str, include_body: bool = True) -> None:
        """Send a font."""
        await web.StaticFileHandler.get(self, path, include_body)

    @allow_unauthenticated
    async def head(self, path: str) -> None:
        """Send what is known about a font."""
        await web.StaticFileHandler.get(self, path, include_body=False)


class BookHandler(_Files):
    """Pages with their policy and the live script, and everything beside them."""

    @web.authenticated
    @authorized
    async def get(self, path: str, include_body: bool = True) -> None:  # type: ignore[override]
        """Send a file of the book; a token in the address is taken off it."""
        await self._send(path, include_body)

    @web.authenticated
    @authorized
    async def head(self, path: str) -> None:  # type: ignore[override]
        """Send what is known about a file."""
        await self._send(path, include_body=False)

    async def _send(self, path: str, include_body: bool) -> None:
        if "token" in self.request.query_arguments:
            self.redirect(self._without_token())
            return
        self.path = self.parse_url_path(path)
        found = self.validate_absolute_path(self.root, self.get_absolute_path(self.root, self.path))
        if found is None:
            return
        if Path(found).suffix != ".html":
            await web.StaticFileHandler.get(self, path, include_body)
            return
        self._page(found, include_body)

    def _page(self, found: str, include_body: bool) -> None:
        self.absolute_path = found
        html = made_live(Path(found).read_text(encoding="utf8"))
        self.set_header("Content-Type", TYPES[".html"])
        self.set_header("Content-Security-Policy", policy(html, self.request.host))
        self.set_header("Etag", self.compute_etag())
        self.set_extra_headers(found)
        if self.check_etag_header():
            self.set_status(304)
            return
        body = html.encode()
        self.set_header("Content-Length", len(body))
        if include_body:
            self.write(body)

    def _without_token(self) -> str:
        kept = [(n, v) for n, values in self.request.query_arguments.items() if n != "token" for v in values]
        return self.request.path + (f"?{urlencode(kept)}" if kept else "")
