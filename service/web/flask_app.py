"""The Flask app: limits, error answers, headers, API and pages put together."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flask import Flask

from service.money import money_text
from service.web.api import serving_api
from service.web.headers import guarding
from service.web.large_bodies import taking_turns
from service.web.operation import described, operation
from service.web.pages.hours import hours_pages
from service.web.pages.office import pages
from service.web.problem_answers import answering
from service.web.wiring import SHEET_LIMIT, Wiring, wired

if TYPE_CHECKING:
    from service.jobs.desk import Desk
    from service.web.wiring import WebSettings

_FORM_WRAPPING = 64 * 1024


def web_app(desk: Desk, settings: WebSettings) -> Flask:
    """An app that answers for one desk."""
    app = Flask("service.web", static_folder="pages/static", template_folder="pages/templates")
    app.config.update(
        MAX_CONTENT_LENGTH=SHEET_LIMIT + _FORM_WRAPPING,
        MAX_FORM_MEMORY_SIZE=100_000,
        MAX_FORM_PARTS=20,
        TRUSTED_HOSTS=list(settings.trusted_hosts),
        SEND_FILE_MAX_AGE_DEFAULT=3600,
    )
    app.jinja_env.globals["money"] = money_text
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    wired(app, Wiring(desk, settings))
    guarding(app)
    described(app, serving_api(app))
    app.register_blueprint(operation)
    app.register_blueprint(pages)
    app.register_blueprint(hours_pages)
    answering(app)
    taking_turns(app)
    return app
