"""The commands `review` and `audit` as functions: the command line says, these do."""

from __future__ import annotations

import getpass
import json
import secrets
import socket
import ssl
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from ipaddress import ip_address
from pathlib import Path

import uvicorn

from extractor.errors import InputError
from extractor.review.act.reading import load_reader
from extractor.review.hear.arrive import shown_name
from extractor.review.hear.engine import Recognizer, lazy_recognizer
from extractor.review.hear.worker import Worker
from extractor.review.models import Person, Role
from extractor.review.store.cases import read_row
from extractor.review.store.clock import now
from extractor.review.store.connect import Store, StoreError, open_store, reading
from extractor.review.store.people import add_person, has_people, remove_person
from extractor.review.store.trail import read_trail, verify
from extractor.review.web.app import make_app
from extractor.review.web.dictate import take_file
from extractor.review.web.site import Site

PORT = 8765
Say = Callable[[str], None]


@dataclass(frozen=True)
class Door:
    """Where the page listens, and under which names it answers."""

    host: str = "127.0.0.1"
    port: int = PORT
    names: tuple[str, ...] = ()
    certificate: Path | None = None
    key: Path | None = None


def serve(
    files: Sequence[Path] = (),
    *,
    say: Say,
    store: str | None = None,
    door: Door | None = None,
    grammars: Sequence[Path] = (),
    watch: Path | None = None,
    name: str | None = None,
    model: str | None = None,
    recognizer: Recognizer | None = None,
) -> None:
    """Run the review page until it is interrupted.

    Args:
        files: sound or text notes to add as cases first.
        say: called with each line to show; the first holds the address to open.
        store: SQLite file or `postgresql://` URL; None for the default file.
        door: address, port, names, TLS files; loopback unless given. Port 0 takes any free one.
        grammars: folders of further packs.
        watch: a folder in which new notes become cases.
        name: whose name acts carry when let in by the printed address; the user's own by default.
        model: recognizer, as for `extractor transcribe`.
        recognizer: takes the place of model.

    Raises:
        StoreError: where the store cannot be opened.
        InputError: for an address that cannot be had, or an open one without accounts or TLS.
    """
    door = door or Door()
    if watch and not watch.is_dir():
        raise InputError(f"{watch}: no such folder to watch; make it first.")
    kept = open_store(store)
    try:
        loopback = is_loopback(door.host)
        if not loopback:
            _may_open(kept, door)
        _check_tls(door)
        with _listen(door) as listener:
            port = listener.getsockname()[1]
            site = make_site(
                kept, port, door, grammars=grammars, watch=watch, name=name,
                recognizer=recognizer, model=model,
            )  # fmt: skip
            for path in files:
                _take(site, path)
            if files:  # without their names: those may be a patient's, and what is printed may be kept
                say(f"Added {len(files)} note{'s' * (len(files) > 1)}.")
            scheme = "https" if site.secure else "http"
            shown = f"[{door.host}]" if ":" in door.host else door.host
            way = f"/enter?token={site.launch_token}" if loopback else "/"
            say(f"Open {scheme}://{shown}:{port}{way}")
            say(f"Cases are kept in {kept.shown}, sound in {kept.folder}. Stop with Ctrl-C.")
            config = uvicorn.Config(
                make_app(site), log_level="warning", access_log=False, server_header=False, lifespan="on",
                timeout_graceful_shutdown=3, ssl_certfile=door.certificate, ssl_keyfile=door.key,
            )  # fmt: skip
            uvicorn.Server(config).run(sockets=[listener])
            site.worker.join(timeout=20)  # its present piece is finished and kept
    finally:
        kept.close()


def make_site(
    kept: Store, port: int, door: Door, *, recognizer: Recognizer | None = None, model: str | None = None,
    grammars: Sequence[Path] = (), watch: Path | None = None, name: str | None = None,
) -> Site:  # fmt: skip
    """Put a site together: everything but listening. A recognizer given takes the place of the model named."""
    reader = load_reader(grammars)
    recognizer = recognizer or lazy_recognizer(model, grammar=reader.grammar)
    names = {door.host, *door.names, *(("localhost", "127.0.0.1", "[::1]") if is_loopback(door.host) else ())}
    if door.host in ("0.0.0.0", "::"):
        names |= {socket.gethostname().lower(), socket.getfqdn().lower()}
    hosts = frozenset(f"{n}:{port}" for n in names) | (frozenset(names) if port in (80, 443) else frozenset())
    return Site(
        store=kept,
        reader=reader,
        worker=Worker(kept, reader, recognizer, watch),
        launch_token=secrets.token_urlsafe(24),
        launch_person=Person(name=name or _own_name(), role="surgeon"),
        hosts=hosts,
        loopback=is_loopback(door.host),
        secure=door.certificate is not None,
        started=now(),
    )


def audit(case: str, *, say: Say, store: str | None = None) -> bool:
    """Print a case's audit trail and verify it.

    Args:
        case: the case's id, as in its address.
        say: called with each line to show.
        store: as for `serve`.

    Returns:
        Whether every link holds; where one does not, the last line names the first broken one.

    Raises:
        StoreError: where there is no such case or store.
    """
    kept = open_store(store)
    try:
        with reading(kept) as connection:
            row = read_row(connection, case)
            lines = read_trail(connection, case)
            broken = verify(connection, case)
    finally:
        kept.close()
    say(f"Case {row.id}: {row.state}, version {row.version}")
    for line in lines:
        detail = json.dumps(json.loads(line.detail), ensure_ascii=False)
        say(f"{line.number:4} {line.at} {line.who} {line.act} {detail} {line.hash[:16]}")
    if broken:
        say(f"BROKEN: {broken}.")
        return False
    say(f"The trail holds: {len(lines)} lines, each with the hash of the one before it.")
    return True


def account(name: str, role: Role, password: str, *, store: str | None = None) -> None:
    """Make an account, or give an existing one a new role and password.

    Raises:
        StoreError: for a name or password that will not do, or a store that cannot be opened.
    """
    kept = open_store(store)
    try:
        add_person(kept, name, role, password)
    finally:
        kept.close()


def forget(name: str, *, store: str | None = None) -> None:
    """Remove an account and sign its browsers out.

    Raises:
        StoreError: where there is no account of this name, or the store cannot be opened.
    """
    kept = open_store(store)
    try:
        remove_person(kept, name)
    finally:
        kept.close()


def is_loopback(host: str) -> bool:
    """Whether only this machine can reach an address."""
    try:
        return host == "localhost" or ip_address(host).is_loopback
    except ValueError:
        return False


def _may_open(kept: Store, door: Door) -> None:
    if not has_people(kept):
        raise InputError(
            f"{door.host} can be reached by others, and there is no account yet; make one first: "
            "extractor account NAME."
        )
    if door.certificate is None:
        raise InputError(
            f"{door.host} can be reached by others, so passwords would pass in the clear; give a --certificate and its "
            "--key, or stay on 127.0.0.1 behind a proxy that has them."
        )


def _check_tls(door: Door) -> None:
    if door.certificate is None:
        if door.key:
            raise InputError(f"{door.key}: a key goes with a certificate; give that as well (--certificate).")
        return
    try:
        ssl.create_default_context(ssl.Purpose.CLIENT_AUTH).load_cert_chain(door.certificate, door.key)
    except (OSError, ssl.SSLError) as error:
        raise InputError(
            f"{door.certificate}: this certificate and its key cannot be used ({error.strerror or error}); check "
            "--certificate and --key."
        ) from error


def _listen(door: Door) -> socket.socket:
    family = socket.AF_INET6 if ":" in door.host else socket.AF_INET
    # the protocol is named so that asyncio sends answers at once (it sets TCP_NODELAY only where it is)
    listener = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind((door.host, door.port))
        listener.listen(128)  # who opens the printed address at once waits, and is not refused
    except OSError as error:
        listener.close()
        raise InputError(f"{door.host}:{door.port} cannot be had ({error.strerror}); choose another --port.") from error
    return listener


def _take(site: Site, path: Path) -> None:
    try:
        with path.open("rb") as file:
            take_file(site, file, shown_name(path.name), site.launch_person, "given at the start")
    except OSError as error:
        raise InputError(f"{path}: cannot be read ({error.strerror}); check the name.") from error
    except InputError as error:
        raise InputError(f"{path}: {error}") from error


def _own_name() -> str:
    try:
        return getpass.getuser()
    except (KeyError, OSError):
        return "user"


__all__ = ["Door", "StoreError", "account", "audit", "forget", "is_loopback", "make_site", "serve"]
