"""Who may come in: tokens, cookies, hosts, origins."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from splitline.serve.guard import Guard

GUARD = Guard(frozenset({"tablet.site"}))


def test_each_link_has_its_own_role() -> None:
    assert GUARD.role_of(GUARD.work_token) == "work"
    assert GUARD.role_of(GUARD.view_token) == "view"


def test_two_servers_have_different_links() -> None:
    assert Guard().work_token != Guard().work_token
    assert len(Guard().work_token) >= 32


@given(st.text())
def test_no_other_text_is_a_token_or_a_cookie(text: str) -> None:
    assert GUARD.role_of(text) is None
    assert GUARD.client_of(text) is None


def test_the_cookie_keeps_role_and_client() -> None:
    cookie = GUARD.cookie_for(GUARD.view_token)
    found = GUARD.client_of(cookie)
    assert found is not None
    assert found[0] == "view"
    assert GUARD.client_of(cookie[:-1] + "g") is None


def test_a_tablets_own_link_works_until_it_alone_is_withdrawn() -> None:
    guard = Guard(tablets={"crane bay": "t" * 32, "bench": "u" * 32})
    cookie, other = guard.cookie_for("t" * 32), guard.cookie_for("u" * 32)
    assert guard.client_of(cookie) is not None
    assert guard.role_of("t" * 32) == "work"
    assert guard.by(cookie, "t" * 32)
    assert not guard.by(cookie, guard.work_token)
    left = replace(guard, tablets={"bench": "u" * 32})
    assert left.client_of(cookie) is None
    assert left.role_of("t" * 32) is None
    assert left.client_of(other) == guard.client_of(other) is not None


@pytest.mark.parametrize("host", ["127.0.0.1:8710", "localhost", "192.168.7.20:8710", "[::1]:8710", "tablet.site:8710"])
def test_own_hosts_are_known(host: str) -> None:
    assert GUARD.knows_host(host)


@pytest.mark.parametrize("host", ["evil.example", "tablet.site.evil.example:8710", "", None])
def test_foreign_hosts_are_not(host: str | None) -> None:
    assert not GUARD.knows_host(host)


@pytest.mark.parametrize(
    ("origin", "known"),
    [
        ("http://192.168.7.20:8710", True),
        ("http://192.168.7.20", False),
        ("http://evil.example", False),
        ("null", False),
        (None, False),
    ],
)
def test_only_our_own_page_may_open_the_socket(origin: str | None, known: bool) -> None:
    assert GUARD.knows_origin(origin, "192.168.7.20:8710") is known


@pytest.mark.parametrize("broken", ["[::1", "http://[", "[x]y]:80"])
def test_a_host_or_origin_that_is_none_is_refused_not_stumbled_over(broken: str) -> None:
    assert not GUARD.knows_host(broken)
    assert not GUARD.knows_origin(f"http://{broken}", broken)
