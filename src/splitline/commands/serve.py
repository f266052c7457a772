"""splitline serve PLAN|FOLDER: the same screens in a tablet's browser, by a link that lets only its holder in."""

from __future__ import annotations

import argparse
import ipaddress
import socket
import ssl
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import segno

from splitline.errors import SplitlineError
from splitline.serve.guard import Guard
from splitline.serve.server import TabletServer
from splitline.serve.state import state_of, tokens, withdraw

if TYPE_CHECKING:
    import ssl

    from splitline.serve.guard import Guard


def add(subparsers: Any) -> None:
    """Declare the command."""
    parser = subparsers.add_parser(
        "serve",
        help="the same screens in a tablet's browser",
        description="Serve a plan or a folder of plans to tablets. Without --host only this machine can connect.",
        epilog="example:\n  splitline serve plans --host 0.0.0.0 --cert site.pem --key site.key",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("target", type=Path, metavar="PLAN|FOLDER")
    parser.add_argument("--host", default="127.0.0.1", help="address to listen on; 0.0.0.0 for the whole network")
    parser.add_argument("--port", type=int, default=8710, help="port to listen on; 0 picks a free one")
    parser.add_argument("--name", action="append", default=[], help="host name tablets use; may be given again")
    parser.add_argument("--most", type=int, default=8, help="tablets served at once")
    parser.add_argument("--work", action="store_true", help="open on the fitter's screen")
    parser.add_argument("--cert", type=Path, help="TLS certificate (PEM)")
    parser.add_argument("--key", type=Path, help="its private key (PEM)")
    parser.add_argument(
        "--tablet", action="append", default=[], metavar="NAME",
        help="print a link of its own for this tablet, which can be withdrawn alone; may be given again",
    )  # fmt: skip
    parser.add_argument(
        "--withdraw", metavar="NAME", help="end the own link of one tablet, also while the server runs; serves nothing"
    )
    parser.add_argument("--new-links", action="store_true", help="make new links; those given out before stop working")
    parser.add_argument("--no-qr", action="store_true", help="print the links without the QR code")


def run(args: argparse.Namespace) -> int:
    """Run it until Ctrl+C."""
    if not args.target.exists():
        raise SplitlineError(f'"{args.target}" is neither a plan nor a folder')
    if args.withdraw is not None:
        withdraw(args.target, args.withdraw)
        print(f'The link of "{args.withdraw}" is withdrawn. A tablet that has it open loses it within seconds.')
        return 0

    if not 0 <= args.port <= 65535 or args.most < 1:
        raise SplitlineError("--port must be 0 to 65535 and --most at least 1")
    tls = _tls(args.cert, args.key)
    state = state_of(args.target, args.new_links, args.tablet)
    names = frozenset(name.lower() for name in args.name)
    guard = Guard(names, state.work_token, state.view_token, state.cookie, state.tablets)
    server = TabletServer(
        args.target.resolve(), guard, host=args.host, port=args.port, places=state.places, most=args.most, work=args.work,
        tls=tls, links=lambda guard: _now(guard, state.links),
    )  # fmt: skip

    def ready(port: int) -> None:
        base = f"{'https' if tls else 'http'}://{_reached_by(args.host, args.name)}:{port}/"
        link = f"{base}?token={guard.work_token}"
        if not args.no_qr:
            _print_qr(link)
        print(f"Work:      {link}")
        print(f"View only: {base}?token={guard.view_token}")
        for name, token in sorted(state.tablets.items()):
            print(f"Tablet {name}: {base}?token={token}")
        if tls is None and not _local(args.host):
            print("The link is not encrypted: use --cert and --key, or a network you trust.")
        print(
            "Whoever has the link can get in; it stays valid after a restart until --new-links. Ctrl+C ends the server.",
            flush=True,
        )

    try:
        server.run(ready)
    except OSError as error:
        raise SplitlineError(f"cannot listen on {args.host}:{args.port}: {error.strerror or error}") from error
    return 0


def _now(guard: Guard, links: Path | None) -> Guard:
    """The guard as the kept links stand; as it was where they cannot be read."""
    try:
        found = tokens(links) if links is not None else None
    except OSError:
        found = None
    if found is None:
        return guard
    return replace(guard, work_token=found[0], view_token=found[1], tablets=found[2])


def _tls(cert: Path | None, key: Path | None) -> ssl.SSLContext | None:
    if cert is None and key is None:
        return None
    if cert is None or key is None:
        raise SplitlineError("--cert and --key go together")

    for flag, path in (("--cert", cert), ("--key", key)):
        if not path.is_file():
            raise SplitlineError(f"{flag} {path}: there is no such file")
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    try:
        context.load_cert_chain(cert, key)
    except (OSError, ssl.SSLError) as error:
        raise SplitlineError(f"the certificate {cert} with the key {key} cannot be used: {error}") from error
    return context


def _local(host: str) -> bool:
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def _reached_by(host: str, names: list[str]) -> str:
    """The name or address a tablet can use."""
    if names:
        return names[0]
    if host not in ("0.0.0.0", "::"):
        return f"[{host}]" if ":" in host else host
    try:
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
            probe.connect(("192.0.2.1", 9))  # documentation address: nothing is sent, the route names our side
            address: str = probe.getsockname()[0]
            return address
    except OSError:
        return socket.gethostname()


def _print_qr(link: str) -> None:
    segno.make(link, error="m").terminal(compact=True, border=1)
