"""Who may come in: link tokens, cookies, hosts and origins. Pure decisions, tried without a network."""

from __future__ import annotations

import hmac
import ipaddress
import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal
from urllib.parse import urlsplit

Role = Literal["work", "view"]
COOKIE = "splitline"

# No outside links, no frames, no scripts but ours. The terminal writes its own style elements.
HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; font-src 'self'; img-src 'self' data:; "
        "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    ),
    "X-Frame-Options": "DENY",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cache-Control": "no-store",
}


@dataclass(frozen=True)
class Guard:
    """The link tokens and the host names this server answers to."""

    names: frozenset[str] = frozenset()
    work_token: str = field(default_factory=lambda: secrets.token_urlsafe(24))
    view_token: str = field(default_factory=lambda: secrets.token_urlsafe(24))
    cookie: str = COOKIE  # its name: browsers keep one for a host, whatever the port, so each served target has its own
    tablets: Mapping[str, str] = field(default_factory=dict)  # tokens for work of tablets with a link of their own

    def role_of(self, token: str | None) -> Role | None:
        """What a token allows; compared in constant time."""
        if not token:
            return None
        offered = token.encode("utf-8", "replace")
        if hmac.compare_digest(offered, self.work_token.encode()):
            return "work"
        if hmac.compare_digest(offered, self.view_token.encode()):
            return "view"
        own = [hmac.compare_digest(offered, token.encode()) for token in self.tablets.values()]
        return "work" if any(own) else None

    def cookie_for(self, token: str) -> str:
        """Cookie of a new client: its token and a client name that outlives reconnections."""
        return f"{token}.{secrets.token_hex(8)}"

    def by(self, cookie: str | None, token: str) -> bool:
        """Whether a client came in by this very token."""
        own = (cookie or "").rpartition(".")[0]
        return self.client_of(cookie) is not None and hmac.compare_digest(
            own.encode("utf-8", "replace"), token.encode()
        )

    def client_of(self, cookie: str | None) -> tuple[Role, str] | None:
        """Role and client name of a cookie, or None if it is not one of ours."""
        token, dot, client = (cookie or "").rpartition(".")
        role = self.role_of(token)
        if not dot or role is None or len(client) != 16 or not all(c in "0123456789abcdef" for c in client):
            return None
        return role, client

    def knows_host(self, host: str | None) -> bool:
        """Whether a Host header names this server: an address, localhost or a name it was told. Foreign names are refused,
        so that a page elsewhere cannot reach the server by pointing its own name here."""
        try:
            name = urlsplit(f"//{host or ''}").hostname
        except ValueError:  # a bracket too few
            return False
        if not name:
            return False
        if name == "localhost" or name in self.names:
            return True
        try:
            ipaddress.ip_address(name)
        except ValueError:
            return False
        return True

    def knows_origin(self, origin: str | None, host: str | None) -> bool:
        """Whether a socket was opened by our own page; a browser always says its origin."""
        try:
            return bool(origin) and urlsplit(origin or "").netloc == host
        except ValueError:
            return False
