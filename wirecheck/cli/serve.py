"""`wirecheck serve`: the boards of a folder as pages in a browser."""

from __future__ import annotations

import os
import socket
from typing import TYPE_CHECKING, Any

import click

from wirecheck.cli._attempts import Done, Ended, Limits, Refused, limit_options, show_traceback
from wirecheck.cli._site import put_site
from wirecheck.cli._sources import PATH, Unreadable, unreadable
from wirecheck.inputs import need_folder, reason

if TYPE_CHECKING:
    from collections.abc import Callable

    from wirecheck.cli._standing import Standing
    from wirecheck.page.answering import Kept, Work

LOCAL = "127.0.0.1"
PORT = 8090
LIMITS = Limits(10, 600)
"""What each question is given: a hundred times what a board of an exercise takes."""
TICKETS = "tickets"
"""The name under which the secret of tickets is kept."""


@click.command(short_help="Show the boards of a folder in a browser.")
@click.argument("folder", metavar="[FOLDER]", default=".", type=PATH)
@click.option(
    "--host",
    default=LOCAL,
    show_default=True,
    help="The address to serve at. 0.0.0.0 opens it to every machine on the network.",
)
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=PORT,
    show_default=True,
    help="The port to serve at. 0: any that is free.",
)
@click.option(
    "--record",
    type=PATH,
    metavar="FILE",
    help="Let students hand in, into this record (SQLite), as grade has it. Nothing else is written.",
)
@click.option(
    "--save",
    "out",
    type=PATH,
    metavar="OUT",
    help="Serve nothing: write the pages into the folder OUT, for any web server. Browsers then do the work.",
)
@limit_options(several=True, always=LIMITS)
def command(folder: str, host: str, port: int, record: str | None, out: str | None, limits: Limits) -> None:
    """Show the boards in FOLDER as pages: the text, the picture, the findings, power and a meter.

    It runs until you stop it with Ctrl-C. Only this machine can open the pages, unless --host opens them
    to others. The folder is only read: what is typed in a page stays in that browser, until it is handed in.
    """
    try:
        need_folder(folder)
    except OSError as error:
        raise unreadable(folder, error) from error
    if out is not None:
        if record is not None:
            raise click.UsageError(
                "--save: where there is no server, nothing is handed in. Leave --record out."
            )
        put_site(folder, out)
        return
    try:
        import uvicorn

        from wirecheck.page.connections import Connection
        from wirecheck.page.server import application
        from wirecheck.page.stopping import Stopping
    except ImportError:
        raise Unreadable(
            "serve needs Starlette and uvicorn: install wirecheck with its extra serve."
        ) from None
    from wirecheck.caution import CAUTION
    from wirecheck.cli._standing import Standing
    from wirecheck.cli._workers import processors
    from wirecheck.page.answers import ready
    from wirecheck.report.paragraphs import wrapped

    kept = _kept(record)
    listening = _listening(host, port)
    try:
        # What a board needs is loaded here once, and not in each process.
        ready()
        # With one more than there are processors, a verdict need not wait for the end of a search.
        jobs = limits.jobs or processors() + 1
        standing = Standing(limits._replace(jobs=jobs))
        try:
            click.echo(
                "\n".join(
                    (
                        *_served(folder, host, listening, kept.token, kept.record is not None),
                        wrapped(CAUTION, ""),
                    )
                )
            )
            app = application(os.path.realpath(folder), _work(standing), _own_names(), kept, jobs)
            Stopping(
                uvicorn.Config(
                    app,
                    http=Connection,
                    ws="none",
                    lifespan="off",
                    access_log=False,
                    log_level="error",
                    server_header=False,
                )
            ).run([listening])
        finally:
            standing.close()
    finally:
        listening.close()


def _kept(record: str | None) -> Kept:
    """The record, if there is one, and the secrets.

    What a ticket hides is told by the secret that the user's folder of caches keeps, so that a ticket goes on
    when the server is started again; where nothing can be kept there, a new server has new tickets.
    """
    import secrets
    from functools import partial

    from wirecheck.kept import keep, kept
    from wirecheck.page.answering import Kept
    from wirecheck.record import NoRecord, opened

    tickets = kept(TICKETS, b"")
    if tickets is None:
        tickets = secrets.token_bytes(32)
        keep(TICKETS, b"", tickets)
    token = secrets.token_urlsafe(16)
    if record is None:
        return Kept(None, tickets, tickets, token)
    try:
        with opened(record) as known:
            codes = known.secret(secrets.token_bytes(32))
    except NoRecord as error:
        raise Unreadable(str(error)) from error
    return Kept(partial(opened, os.path.abspath(record), new=False), codes, tickets, token)


def _work(standing: Standing) -> Work:
    """Works a question out in one of the processes."""
    from wirecheck.page.answering import NotAnswered

    async def work(function: Callable[..., Any], *args: Any) -> Any:
        match await standing.outcome(function, *args):
            case Done(answer):
                return answer
            case Refused(error):
                raise NotAnswered(error.format_message())
            case Ended() as ended:
                show_traceback(ended)
                raise NotAnswered(ended.message)

    return work


def _listening(host: str, port: int) -> socket.socket:
    """The socket to serve at."""
    try:
        host.encode("idna")
        family = socket.AF_INET6 if ":" in host else socket.AF_INET
        return socket.create_server((host, port), family=family, backlog=128)
    except (OSError, OverflowError, UnicodeError) as error:
        why = reason(error) if isinstance(error, OSError) else "it is no address"
        raise Unreadable(f"cannot serve at {host}, port {port}: {why}.") from error


def _served(folder: str, host: str, listening: socket.socket, token: str, recorded: bool) -> list[str]:
    """Where the pages are, and what it means where others can open them."""
    from wirecheck.report.paragraphs import wrapped
    from wirecheck.report.plain import plain

    port = listening.getsockname()[1]
    named = f"[{host}]" if ":" in host else host
    anywhere = host in ("0.0.0.0", "::")
    address = f"http://{LOCAL if anywhere else named}:{port}/"
    told = [plain(f"The boards of {folder} are at {address}")]
    if not _is_local(host):
        told.append(
            wrapped(
                "Every machine that can reach this one can open them"
                + (
                    f", as http://{socket.gethostname()}:{port}/ or at this machine's address"
                    if anywhere
                    else ""
                )
                + ". Whoever does can read every board in the folder, and what goes between them and this "
                "machine is not encrypted. They cannot change a file"
                + (", and can hand in, which adds to the record" if recorded else "")
                + ". Use it in a classroom's network only.",
                "",
            )
        )
    told.append(wrapped(f"For the instructor alone: who works on what is at {address}class/{token}", ""))
    told.append("Stop it with Ctrl-C.\n")
    return told


def _is_local(host: str) -> bool:
    from ipaddress import ip_address

    try:
        return ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


def _own_names() -> frozenset[str]:
    """What this machine is called in its network."""
    name = socket.gethostname().lower()
    return frozenset({name, f"{name}.local", socket.getfqdn().lower()} - {""})
