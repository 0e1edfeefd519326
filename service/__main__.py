"""Command line: `python -m service COMMAND`. Exit codes: 0 done, 1 refused, 2 usage or configuration."""

from __future__ import annotations

import argparse
import json
import sys
from dataclasses import fields, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

from service.app import SAMPLE_LIST, StartFault, created_app, desk_of, logging_to_stdout, served
from service.config import ConfigFault, settings_from_environment
from service.jobs.cut_plans import cuts_planned
from service.jobs.desk import Refused, fresh_id, utc_now
from service.jobs.files import quote_files
from service.jobs.firms import key_made, own_firm
from service.jobs.reading import Document, Workbook
from service.problems import Code, Problem, Severity
from service.storage.keys import Role
from service.web.bodies import parsed_json
from service.web.faults import Fault

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from service.config import Settings

DONE, REFUSED, USAGE = 0, 1, 2


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; answers with its exit code."""
    options = _parser().parse_args(arguments)
    try:
        settings = _settings(options)
        return int(options.run(options, settings))
    except (ConfigFault, StartFault) as fault:
        print(fault, file=sys.stderr)
        return USAGE


def _settings(options: argparse.Namespace) -> Settings:
    settings = settings_from_environment()
    given = {name: getattr(options, name, None) for name in ("data", "host", "port")}
    return replace(settings, **{name: value for name, value in given.items() if value is not None})


def _serve(_options: argparse.Namespace, settings: Settings) -> int:
    logging_to_stdout(settings.log_level)
    with desk_of(settings.data) as desk:
        served(created_app(desk, settings), settings)
    return DONE


def _create_key(options: argparse.Namespace, settings: Settings) -> int:
    with desk_of(settings.data) as desk:
        firm = own_firm(desk)
        if firm is None:
            raise StartFault(f"The data folder {settings.data} holds no firm.")
        print(key_made(desk, firm.id, Role(options.role)))
    return DONE


def _check_config(_options: argparse.Namespace, settings: Settings) -> int:
    for field in fields(settings):
        print(f"{field.name} = {getattr(settings, field.name)}")
    print(f"page without a key = {'yes' if settings.is_loopback else 'no'}")
    return DONE


def _quote(options: argparse.Namespace, _settings: Settings) -> int:
    sheet, price_list = _file(options.sheet), _file(options.price_list)
    made = quote_files(Workbook(sheet), Workbook(price_list), _list_name(options.price_list), fresh_id(), utc_now())
    if isinstance(made, Refused):
        return _refused(made)
    _write(options.out, made)
    return DONE


def _list_name(path: Path) -> str:
    """The sample is the list that a new data folder calls `standard`; any other goes by its file's name."""
    return "standard" if path == SAMPLE_LIST else path.stem


def _worker(_options: argparse.Namespace, _settings: Settings) -> int:
    raise StartFault("There is no queue yet, so there is nothing for a worker to do; `serve` does all the work.")


def _cut_plan(options: argparse.Namespace, _settings: Settings) -> int:
    planned = _planned(_file(options.request))
    if isinstance(planned, Refused):
        return _refused(planned)
    print(json.dumps(planned, ensure_ascii=False, indent=2))
    return DONE


def _planned(data: bytes) -> dict[str, Any] | Refused:
    try:
        document = Document(parsed_json(data))
    except Fault as fault:
        return Refused((Problem(Code.DOCUMENT_UNREADABLE, Severity.ERROR, "", fault.detail, "Give one JSON object."),))
    return cuts_planned(document)


def _refused(work: Refused) -> int:
    for problem in work.problems:
        print(" ".join(problem.line().split()), file=sys.stderr)
    return REFUSED


def _file(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        raise StartFault(f"Cannot read {path}: {error.strerror}.") from error


def _write(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write all files or none: each beside its place first, then all moved into it."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with TemporaryDirectory(dir=folder, prefix=".") as parts:
            for name, data in files.items():
                (Path(parts) / name).write_bytes(data)
            for name in files:
                print((Path(parts) / name).replace(folder / name))
    except OSError as error:
        raise StartFault(f"Cannot write to {folder}: {error.strerror}.") from error


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m service", description="Priced trim quotes from room sheets.")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    serve = commands.add_parser("serve", help="answer over HTTP until stopped")
    serve.add_argument("--host", help="address to listen on (default 127.0.0.1)")
    serve.add_argument("--port", type=_port, help="port to listen on (default 8080; 0 takes any free one)")
    _with_data(serve).set_defaults(run=_serve)
    commands.add_parser("worker", help="do queued work (no queue yet)").set_defaults(run=_worker)
    key = commands.add_parser("key", help="keys for programs and people").add_subparsers(required=True, metavar="WHAT")
    create = key.add_parser("create", help="make a key and print it; it cannot be read again")
    create.add_argument("--role", required=True, choices=[role.value for role in Role])
    _with_data(create).set_defaults(run=_create_key)
    commands.add_parser("check-config", help="print the settings in force").set_defaults(run=_check_config)
    _add_quote(commands.add_parser("quote", help="quote a room sheet into files, without a data folder"))
    cut_plan = commands.add_parser("cut-plan", help="plan joints and boards of a JSON request, on stdout")
    cut_plan.add_argument("request", metavar="REQUEST.json", type=Path)
    cut_plan.set_defaults(run=_cut_plan)
    return parser


def _add_quote(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("sheet", metavar="SHEET.xlsx", type=Path)
    parser.add_argument("--price-list", metavar="LIST.xlsx", type=Path, default=SAMPLE_LIST)
    parser.add_argument("--out", metavar="DIR", type=Path, default=Path())
    parser.set_defaults(run=_quote)


def _with_data(parser: argparse.ArgumentParser) -> argparse.ArgumentParser:
    parser.add_argument("--data", metavar="DIR", type=Path, help="data folder (default ./.run/data)")
    return parser


def _port(text: str) -> int:
    port = int(text) if text.isdecimal() else -1
    if not 0 <= port <= 65535:  # noqa: PLR2004 - the range of ports
        raise argparse.ArgumentTypeError("a port is a number from 0 to 65535")
    return port


if __name__ == "__main__":
    sys.exit(main())
