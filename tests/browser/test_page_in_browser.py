from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe  # type: ignore[import-untyped] # the library ships no types

from tests.web.office import SAMPLES

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
SCHEMES = ("light", "dark")


def send(page, sample: str) -> None:
    """Choose a sample on the first page and send it."""
    page.goto("/")
    page.set_input_files("#file", SAMPLES / sample)
    page.get_by_role("button", name="Make the quote").click()
    page.wait_for_load_state("networkidle")


def opened(page, place: str) -> None:
    """Go to one of the places under test."""
    if place == "a line":
        send(page, "rectangle.xlsx")
        page.goto(f"{page.url}/lines/1")
    elif place.endswith(".xlsx"):
        send(page, place)
    else:
        page.goto(place)


def test_a_sheet_becomes_a_quote_without_javascript(page) -> None:
    """Choosing the sample and sending it shows the total, the drawn plan and the documents, with scripts off."""
    send(page, "l_shaped.xlsx")
    assert page.title().startswith("Quote 1")
    assert page.locator(".total strong").inner_text().startswith("$")
    assert page.get_by_role("link", name="Quote for the customer").is_visible()
    box = page.locator(".plan img").bounding_box()
    assert box["width"] > 200
    assert box["height"] > 200


def test_faults_take_the_focus(page) -> None:
    """The page of faults has a title that starts with Error and puts the focus on its summary."""
    send(page, "broken.xlsx")
    assert page.title().startswith("Error:")
    assert page.locator("#summary:focus").count() == 1
    assert page.get_by_role("row").count() > 30
    assert page.get_by_role("rowheader", name="Walls C2").count() == 1


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize(
    "place",
    ["/", "l_shaped.xlsx", "a line", "broken.xlsx", "/docs", "/problems", "/problems/length-is-date", "/sign-in"],
)
def test_axe_finds_nothing(browser, address, place, scheme) -> None:
    """The accessibility checker finds no violation of WCAG 2.2 A and AA or its best practices, light and dark."""
    context = browser.new_context(base_url=address, color_scheme=scheme, bypass_csp=True)
    page = context.new_page()
    opened(page, place)
    results = Axe().run(page, options={"runOnly": {"type": "tag", "values": TAGS}})
    context.close()
    assert results.violations_count == 0, results.generate_report()


@pytest.mark.parametrize(
    "place", ["/", "l_shaped.xlsx", "a line", "broken.xlsx", "/docs", "/problems", "/problems/length-is-date"]
)
def test_nothing_is_wider_than_a_phone(browser, address, place) -> None:
    """At 320 CSS pixels nothing scrolls sideways (WCAG 2.2, 1.4.10)."""
    context = browser.new_context(base_url=address, viewport={"width": 320, "height": 640})
    page = context.new_page()
    opened(page, place)
    width = page.evaluate("document.documentElement.scrollWidth")
    context.close()
    assert width <= 320


def test_the_keyboard_reaches_everything_in_order(browser, address) -> None:
    """Tab goes from the skip link through the site's links to the file input and its button, each with a visible focus."""
    context = browser.new_context(base_url=address)
    page = context.new_page()
    page.goto("/")
    reached = []
    for _ in range(7):
        page.keyboard.press("Tab")
        reached.append(page.evaluate("document.activeElement.innerText || document.activeElement.id"))
        assert page.evaluate("getComputedStyle(document.activeElement).outlineStyle") != "none"
    context.close()
    assert reached == [
        "Skip to the content", "Trim quotes", "New quote", "For programs", "Faults explained", "file", "Make the quote",
    ]  # fmt: skip


def test_targets_are_large_enough(browser, address) -> None:
    """Buttons, inputs and links that stand alone are at least 24 pixels high (WCAG 2.2, 2.5.8)."""
    context = browser.new_context(base_url=address, viewport={"width": 360, "height": 800})
    page = context.new_page()
    send(page, "l_shaped.xlsx")
    heights = [item.bounding_box()["height"] for item in page.locator("nav a, .files a, button, input").all()]
    context.close()
    assert len(heights) > 8
    assert min(heights) >= 24


def test_the_page_loads_nothing_foreign(page) -> None:
    """Every request of the quote's page goes to the service itself, and the browser reports no blocked content."""
    asked, told = [], []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: told.append(message.text))
    send(page, "rectangle.xlsx")
    assert asked
    assert all(url.startswith(page.url.split("/quotes/")[0]) for url in asked)
    assert told == []
