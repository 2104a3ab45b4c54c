"""`hatchwright serve`: the jobs of a folder for a shop, and its first people."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import click

from hatchwright.cli.frame import now, put, shop_option, words

_FILE = click.Path(path_type=Path, exists=True, dir_okay=False)
_ROLES = ("viewer", "mechanic", "inspector")


@click.command(name="serve", help=words("command.serve.about"))
@click.argument("folder", type=click.Path(path_type=Path, exists=True, file_okay=False), required=False)
@click.option("--host", default="", help=words("command.serve.listen"))
@click.option("--port", type=click.IntRange(0, 65535), default=8443, help=words("command.serve.shop_port"))
@click.option("--name", "names", multiple=True, help=words("command.serve.name"))
@click.option("--cert", type=_FILE, help=words("command.serve.cert"))
@click.option("--cert-key", type=_FILE, help=words("command.serve.cert_key"))
@click.option("--add", help=words("command.serve.add"))
@click.option("--role", type=click.Choice(_ROLES), help=words("command.serve.role"))
@click.option("--certificate", default="", help=words("command.serve.certificate"))
@shop_option
def command(
    folder: Path | None,
    host: str,
    port: int,
    names: tuple[str, ...],
    cert: Path | None,
    cert_key: Path | None,
    add: str | None,
    role: str | None,
    certificate: str,
    shop: Path | None,
) -> None:
    """Serve until stopped, or name a person and end."""
    folder = folder or Path.cwd()
    if add is not None:
        _add(folder, add, role, certificate)
        return
    if role or certificate:
        raise click.UsageError(words("command.serve.only_with_add"))
    if bool(cert) != bool(cert_key):
        raise click.UsageError(words("command.serve.cert_alone"))
    call = [sys.executable, "-m", "hatchwright.web.serve", str(folder), f"--host={host}", "--port", str(port)]
    call += [f"--name={name}" for name in names]
    call += ["--cert", str(cert), "--cert-key", str(cert_key)] if cert else []
    call += ["--shop", str(shop)] if shop else []
    with subprocess.Popen(
        call, stdin=subprocess.PIPE
    ) as server:  # the pipe closes by whatever signal this ends
        try:
            sys.exit(server.wait())
        except KeyboardInterrupt:
            sys.exit(0)


def _add(folder: Path, name: str, role: str | None, certificate: str) -> None:
    from hatchwright.records.people import Role
    from hatchwright.workflow.people import name_first, name_person, people_of, signer

    people = people_of(folder)
    if not people:
        if role not in (None, Role.INSPECTOR):
            raise click.UsageError(words("command.serve.first_is_inspector"))
        phrase = _new_phrase(name)
        person = name_first(folder, name=name, pass_phrase=phrase, certificate=certificate, now=now()).person
    else:
        has_inspector = any(one.may(Role.INSPECTOR) for one in people.values())
        usual = Role.MECHANIC if has_inspector else Role.INSPECTOR
        by_name = click.prompt(words("command.serve.by"), err=True)
        phrase = click.prompt(words("command.serve.by_phrase", name=by_name), hide_input=True, err=True)
        by, phrase = signer(people, by_name, phrase), _new_phrase(name)
        person = name_person(
            folder, by=by, name=name, role=Role(role or usual), pass_phrase=phrase, certificate=certificate,
            now=now(),
        )  # fmt: skip
    put("command.serve.added", name=person.name, role=words(f"people.role.{person.role}"))


def _new_phrase(name: str) -> str:
    """Typed twice at the terminal, and not shown."""
    again = words("command.serve.again")
    typed: str = click.prompt(
        words("command.serve.phrase", name=name), hide_input=True, confirmation_prompt=again, err=True
    )
    return typed
