"""Who asks: bearer keys for the API, loopback or a signed cookie for the page."""

from __future__ import annotations

import hashlib
import hmac
from datetime import timedelta
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from flask import g, request
from itsdangerous import BadSignature, URLSafeTimedSerializer

from service.jobs.firms import key_opened, key_still_live, own_firm
from service.storage.keys import Key, Role
from service.web.faults import Fault, RequestCode
from service.web.wiring import desk, settings

if TYPE_CHECKING:
    from collections.abc import Collection

    from flask import Response

REALM = "trim quotes"
EVERYONE = frozenset(Role)
WRITERS = frozenset({Role.OFFICE, Role.INTEGRATION})
OFFICE = frozenset({Role.OFFICE})
_COOKIE = "office"
_SIGNED_IN_FOR = timedelta(hours=12)


def caller(roles: Collection[Role]) -> Key:
    """The key behind a request to the API.

    Raises:
        Fault: 401 without a valid key, 403 when its role is not among `roles`.
    """
    scheme, _, token = request.headers.get("Authorization", "").partition(" ")
    if not scheme or scheme.casefold() != "bearer":
        raise Fault(RequestCode.KEY_MISSING, headers={"WWW-Authenticate": f'Bearer realm="{REALM}"'})
    key = key_opened(desk(), token.strip())
    if key is None:
        raise Fault(RequestCode.KEY_NOT_VALID, headers=_challenge("invalid_token"))
    g.key_prefix = key.prefix
    if key.role not in roles:
        raise Fault(RequestCode.ROLE_NOT_ALLOWED, headers=_challenge("insufficient_scope"))
    return key


def visitor() -> Key | None:
    """Who uses the page: the office of the folder's firm on loopback, else whose cookie it is; None: a stranger."""
    if settings().page_is_open:
        firm = own_firm(desk())
        return Key("page", firm.id, Role.OFFICE) if firm else None
    prefix = _signed_prefix(request.cookies.get(_COOKIE, ""))
    key = key_still_live(desk(), prefix) if prefix else None
    return key if key and key.role in OFFICE else None


def sign_in(response: Response, token: str) -> bool:
    """Give the holder of an office key a cookie; False, and no cookie, for any other."""
    key = key_opened(desk(), token.strip())
    if key is None or key.role not in OFFICE:
        return False
    response.set_cookie(
        _COOKIE,
        str(_signer().dumps(key.prefix)),
        max_age=_SIGNED_IN_FOR,
        httponly=True,
        samesite="Strict",
        secure=settings().is_https,
    )
    return True


def sent_from_here() -> None:
    """Refuse a form that another site made the browser send.

    Raises:
        Fault: 403 when `Sec-Fetch-Site` or `Origin` names another site.
    """
    site = request.headers.get("Sec-Fetch-Site", "same-origin")
    origin = request.headers.get("Origin")
    from_here = origin is None or urlsplit(origin).netloc == request.host
    if site not in {"same-origin", "none"} or not from_here:
        raise Fault(RequestCode.SENT_FROM_ELSEWHERE)


def _signed_prefix(cookie: str) -> str | None:
    try:
        return str(_signer().loads(cookie, max_age=int(_SIGNED_IN_FOR.total_seconds())))
    except BadSignature:
        return None


def _signer() -> URLSafeTimedSerializer:
    secret = hmac.digest(desk().pepper, b"page cookie", "sha256")
    return URLSafeTimedSerializer(secret, signer_kwargs={"digest_method": hashlib.sha256})


def _challenge(error: str) -> dict[str, str]:
    return {"WWW-Authenticate": f'Bearer realm="{REALM}", error="{error}"'}
