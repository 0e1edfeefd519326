from __future__ import annotations

import os
import shutil
import threading
from typing import TYPE_CHECKING

import pytest
import structlog
from waitress import create_server  # type: ignore[import-untyped] # the library ships no types

from tests.web.office import founded_in, office_in

if TYPE_CHECKING:
    from collections.abc import Iterator

FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]


@pytest.fixture(scope="session")
def browser():
    """Chromium without a window; missing it skips, except where CI=true promises it."""
    program = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if program is None and os.environ.get("CI") != "true":
        pytest.skip("no Chromium on this computer; the browser tests need one")
    from playwright.sync_api import sync_playwright  # noqa: PLC0415 - loaded only where a browser is

    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=program, args=FLAGS)
        yield running
        running.close()


@pytest.fixture(scope="session")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Address of a service with the invented office, on a free port of this computer."""
    structlog.configure(wrapper_class=structlog.make_filtering_bound_logger("critical"))
    folder = tmp_path_factory.mktemp("browser")
    with office_in(folder / "data", founded_in(folder / "founded")) as office:
        server = create_server(office.app(), host="127.0.0.1", port=0, threads=4)
        thread = threading.Thread(target=server.run)
        thread.start()
        yield f"http://127.0.0.1:{server.effective_port}"
        server.close()
        server.task_dispatcher.shutdown()
        thread.join(timeout=10)


@pytest.fixture
def page(browser, address: str):
    """A fresh page without JavaScript, 1280 pixels wide."""
    context = browser.new_context(base_url=address, java_script_enabled=False, viewport={"width": 1280, "height": 900})
    yield context.new_page()
    context.close()
