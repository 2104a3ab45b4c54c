"""A shop server speaks TLS 1.2 or later and nothing else, with a certificate that a browser can be taught to know.

Python's `ssl` and OpenSSL judge it from outside, as a browser would.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import socket
import ssl
import stat
from datetime import UTC, datetime, timedelta
from http.client import HTTPSConnection
from urllib.parse import urlencode

import pytest

from hatchwright.errors import EntryError
from hatchwright.web.certificate import given_certificate, own_certificate
from hatchwright.web.shop_server import hosts_of
from hatchwright.web.throttle import FREE_TRIES
from security.browsing import form_of
from security.served_shop import HOST, served_shop
from security.shop import MECHANIC
from tests.patience import PATIENCE_S

NOW = datetime(2026, 3, 9, 14, 5, tzinfo=UTC)


@pytest.fixture(scope="module")
def served(named, tmp_path_factory):
    """One server for all tests of this file."""
    with served_shop(named, tmp_path_factory.mktemp("state")) as shown:
        yield shown


def speaks(port: int, context: ssl.SSLContext, name: str = HOST) -> str:
    """The version that both sides agree on."""
    with (
        socket.create_connection((HOST, port), PATIENCE_S) as line,
        context.wrap_socket(line, server_hostname=name) as secure,
    ):
        return secure.version() or ""


def careless() -> ssl.SSLContext:
    """Of a client that takes whatever it is given."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    context.check_hostname, context.verify_mode = False, ssl.CERT_NONE
    context.set_ciphers("ALL:@SECLEVEL=0")
    return context


@pytest.mark.filterwarnings("ignore:ssl.TLSVersion")
def test_no_older_version_and_no_weaker_cipher_is_agreed_on(served):
    port = served.port
    assert speaks(port, careless()) == "TLSv1.3"
    for version in (ssl.TLSVersion.TLSv1, ssl.TLSVersion.TLSv1_1):
        old = careless()
        old.minimum_version = old.maximum_version = version
        with pytest.raises((ssl.SSLError, OSError)):
            speaks(port, old)
    usual = careless()
    usual.maximum_version = ssl.TLSVersion.TLSv1_2
    assert speaks(port, usual) == "TLSv1.2"
    for ciphers in ("kRSA", "ECDHE+AES+SHA1", "ECDHE+AES+SHA256:!AESGCM", "aNULL"):
        weak = careless()
        weak.maximum_version = ssl.TLSVersion.TLSv1_2
        weak.set_ciphers(f"{ciphers}:@SECLEVEL=0")
        with pytest.raises((ssl.SSLError, OSError)):
            speaks(port, weak)


def test_in_the_clear_nothing_is_said(served):
    port = served.port
    with socket.create_connection((HOST, port), PATIENCE_S) as line:
        line.sendall(f"GET /login HTTP/1.1\r\nHost: {HOST}\r\n\r\n".encode())
        got = b""
        with contextlib.suppress(OSError):
            while part := line.recv(4096):
                got += part
    assert b"HTTP" not in got


def test_who_was_shown_the_certificate_is_sure_of_the_server_by_each_of_its_names(served):
    port = served.port
    pem = ssl.get_server_certificate((HOST, port))
    digest = hashlib.sha256(ssl.PEM_cert_to_DER_cert(pem)).hexdigest().upper()
    assert ":".join(digest[k : k + 2] for k in range(0, 64, 2)) in served.printed
    sure = ssl.create_default_context(cadata=pem)
    for name in (HOST, "hangar-2.example"):
        assert speaks(port, sure, name) == "TLSv1.3"
    with pytest.raises(ssl.SSLCertVerificationError):
        speaks(port, sure, "other.example")
    with pytest.raises(ssl.SSLCertVerificationError):
        speaks(port, ssl.create_default_context())
    (kept,) = served.state.rglob("*.pem")
    assert stat.S_IMODE(kept.stat().st_mode) == 0o600
    assert b"PRIVATE KEY" in kept.read_bytes()


def test_only_its_own_names_are_answered_and_its_cookies_come_over_tls_alone(served):
    port = served.port
    line = HTTPSConnection(HOST, port, timeout=PATIENCE_S, context=careless())
    for host, status in ((HOST, 200), ("hangar-2.example", 200), ("evil.example", 400), ("localhost", 400)):
        line.request("GET", "/login", headers={"Host": f"{host}:{port}"})
        answer = line.getresponse()
        answer.read()
        assert answer.status == status, host
        for cookie in answer.headers.get_all("set-cookie", []):
            assert cookie.startswith("__Host-")
            for word in ("Secure", "HttpOnly", "SameSite=Strict", "Path=/"):
                assert word in cookie
            assert "Domain" not in cookie
    line.close()


def test_who_says_that_a_proxy_stands_before_him_is_counted_all_the_same(served):
    """The server itself, too, believes no header about where a request comes from."""
    line = HTTPSConnection(HOST, served.port, timeout=PATIENCE_S, context=careless())
    line.request("GET", "/login")
    answer = line.getresponse()
    cookie = answer.headers["set-cookie"].partition(";")[0]
    typed = {**form_of(answer.read().decode(), "/login"), "pass_phrase": "guess after guess"}
    statuses = []
    for k in range(FREE_TRIES + 1):
        heads = {"Cookie": cookie, "Origin": f"https://{HOST}:{served.port}"}
        heads |= {"Content-Type": "application/x-www-form-urlencoded", "X-Forwarded-For": f"198.51.100.{k}"}
        line.request("POST", "/login", urlencode({**typed, "name": f"nobody {k}"}), heads)
        answer = line.getresponse()
        answer.read()
        statuses.append(answer.status)
    line.close()
    assert statuses == [403] * FREE_TRIES + [429]


def test_the_session_too(shop):
    shown = shop.outside()
    assert shop.log_in(shown, MECHANIC).status == 302
    cookies = shown.cookies
    assert set(cookies) == {"__Host-hatchwright_session", "__Host-hatchwright_csrf"}
    for cookie in cookies.values():
        assert cookie["secure"]
        assert cookie["httponly"]
        assert (cookie["samesite"], cookie["path"], cookie["domain"]) == ("Strict", "/", "")


def test_a_certificate_is_kept_until_it_ends_soon(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    first = own_certificate(("hangar", "192.0.2.7"), NOW).fingerprint
    assert own_certificate(("192.0.2.7", "hangar"), NOW + timedelta(days=700)).fingerprint == first
    assert own_certificate(("hangar",), NOW).fingerprint != first
    assert own_certificate(("hangar", "192.0.2.7"), NOW + timedelta(days=800)).fingerprint != first
    for kept in tmp_path.rglob("*.pem"):
        kept.write_bytes(kept.read_bytes()[:300])  # cut off, as by a full disk
    assert own_certificate(("hangar",), NOW).context()
    monkeypatch.setenv("XDG_STATE_HOME", os.devnull)
    with pytest.raises(EntryError, match="can't be kept"):
        own_certificate(("hangar",), NOW)


def test_a_given_certificate_is_refused_where_no_browser_would_take_it(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    one, other = own_certificate(("one",), NOW), own_certificate(("other",), NOW)
    assert given_certificate(one.file, one.key_file, NOW).fingerprint == one.fingerprint
    for file, key, when, words in (
        (one.file, other.file, NOW, "another one's"),
        (one.file, one.file, NOW + timedelta(days=900), "not valid now"),
        (one.file, one.file, NOW - timedelta(days=9), "not valid now"),
        (tmp_path / "none.pem", one.file, NOW, "can't be read"),
    ):
        with pytest.raises(EntryError, match=words):
            given_certificate(file, key, when)


@pytest.mark.parametrize(
    "name", ["a b", "*", "*.example", "evil.example/", "a\r\nb", "", "-x", "é.example", "x:80", "."]
)
def test_no_name_opens_the_door_to_every_host(name):
    with pytest.raises(EntryError):
        hosts_of(HOST, (name,))
    with pytest.raises(EntryError):
        hosts_of(name, ())
