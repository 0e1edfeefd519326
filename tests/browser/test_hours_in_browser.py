from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe  # type: ignore[import-untyped] # the library ships no types

from tests.web.office import SAMPLES

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
RATES = "/production-rates"


def opened(page, *, fault: bool = False) -> None:
    """Send the sample, open its page of hours, type some and send them."""
    page.goto("/")
    page.set_input_files("#file", SAMPLES / "rectangle.xlsx")
    page.get_by_role("button", name="Make the quote").click()
    page.get_by_role("link", name="Feed back the hours").click()
    page.get_by_label("Hours of Coped joints").fill("1,5" if fault else "3")
    page.get_by_role("button", name="Keep the hours").click()


def test_hours_are_fed_back_without_javascript(page) -> None:
    """With scripts off, hours typed on the page are kept, and the rates' page has a job of them."""
    opened(page)
    assert page.get_by_label("Hours of Coped joints").input_value() == "3"
    page.get_by_role("link", name="production rates").click()
    assert page.get_by_role("rowheader", name="Coped joints").count() == 1


def test_a_fault_takes_the_focus_and_leads_to_its_field(page) -> None:
    """Refused hours put the focus on the summary, whose link goes to the field that is marked invalid."""
    opened(page, fault=True)
    assert page.locator("#summary:focus").count() == 1
    page.locator("#summary").get_by_role("link", name="Coped joints").click()
    assert page.locator("#hours-cut-cope[aria-invalid=true]:target").count() == 1


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("place", ["hours", "faults", "rates"])
def test_axe_finds_nothing(browser, address, place, scheme) -> None:
    """The accessibility checker finds no violation of WCAG 2.2 A and AA or its best practices, light and dark."""
    context = browser.new_context(base_url=address, color_scheme=scheme, bypass_csp=True)
    page = context.new_page()
    opened(page, fault=place == "faults")
    if place == "rates":
        page.goto(RATES)
    results = Axe().run(page, options={"runOnly": {"type": "tag", "values": TAGS}})
    context.close()
    assert results.violations_count == 0, results.generate_report()


@pytest.mark.parametrize("place", ["hours", "rates"])
def test_nothing_is_wider_than_a_phone(browser, address, place) -> None:
    """At 320 CSS pixels the page does not scroll sideways, its tables do within (WCAG 2.2, 1.4.10)."""
    context = browser.new_context(base_url=address, viewport={"width": 320, "height": 640})
    page = context.new_page()
    opened(page)
    if place == "rates":
        page.goto(RATES)
    width = page.evaluate("document.documentElement.scrollWidth")
    context.close()
    assert width <= 320
