"""Settings from the environment, read once, frozen."""

from __future__ import annotations

import ipaddress
from dataclasses import dataclass
from pathlib import Path

from environs import EnvError, FileAwareEnv, validate

PREFIX = "TRIM_QUOTE_"
_LOOPBACK_NAMES = ("127.0.0.1", "localhost", "[::1]")


class ConfigFault(ValueError):
    """Some settings are wrong; the message names every one."""


@dataclass(frozen=True, slots=True)
class Settings:
    """How the service runs.

    Attributes:
        data: folder of database and pepper.
        host, port: where it listens.
        threads: requests answered at once.
        trusted_hosts: names by which people reach it, besides those it can tell itself.
        https: people reach it over TLS, through a proxy.
        log_level: least level that is logged.
    """

    data: Path
    host: str
    port: int
    threads: int
    trusted_hosts: tuple[str, ...]
    https: bool
    log_level: str

    @property
    def is_loopback(self) -> bool:
        """True when only programs on this machine can reach the service."""
        try:
            return self.host == "localhost" or ipaddress.ip_address(self.host).is_loopback
        except ValueError:
            return False

    @property
    def known_hosts(self) -> tuple[str, ...]:
        """Host names that a request may ask for."""
        own = f"[{self.host}]" if ":" in self.host else self.host
        return tuple(dict.fromkeys((*_LOOPBACK_NAMES, own, *self.trusted_hosts)))

    @property
    def address(self) -> str:
        """Where a person on this machine finds the page."""
        host = {"0.0.0.0": "127.0.0.1", "::": "[::1]"}.get(self.host, self.host)  # noqa: S104 - named, not bound
        return f"http://{f'[{host}]' if ':' in host and host[0] != '[' else host}:{self.port}/"


def settings_from_environment() -> Settings:
    """Settings in the variables `TRIM_QUOTE_…`; each may also be read from a file named by `…_FILE`.

    Raises:
        ConfigFault: naming every variable that is wrong.
    """
    env = FileAwareEnv(eager=False)
    with env.prefixed(PREFIX):
        settings = Settings(
            data=Path(env.str("DATA", "./.run/data")),
            host=env.str("HOST", "127.0.0.1"),
            port=env.int("PORT", 8080, validate=validate.Range(0, 65535)),
            threads=env.int("THREADS", 8, validate=validate.Range(1, 64)),
            trusted_hosts=tuple(env.list("TRUSTED_HOSTS", [])),
            https=env.bool("HTTPS", False),
            log_level=env.str("LOG_LEVEL", "info", validate=validate.OneOf(("debug", "info", "warning", "error"))),
        )
    try:
        env.seal()
    except EnvError as error:
        raise ConfigFault(str(error)) from error
    return settings
