from __future__ import annotations

import threading
from datetime import timedelta

import pytest

from tests.web.office import changed

STEPS = [
    (["issue"], "issued"),
    (["issue", "accept"], "accepted"),
    (["issue", "decline"], "declined"),
    (["withdraw"], "withdrawn"),
    (["issue", "withdraw"], "withdrawn"),
]


@pytest.mark.parametrize(("steps", "status"), STEPS)
def test_a_quote_is_led_step_by_step(estimator, steps, status):
    """Each allowed step changes the status and the ETag, and nothing else of the quote."""
    quote = estimator.quoted()
    path = f"/v1/quotes/{quote['id']}"
    tag = estimator.get(path).headers["ETag"]
    for step in steps:
        response = estimator.post(f"{path}/{step}", If_Match=tag)
        assert response.status_code == 200
        assert response.headers["ETag"] != tag
        tag = response.headers["ETag"]
    after = estimator.get(path)
    assert (after.json["status"], after.headers["ETag"]) == (status, tag)
    assert {k: v for k, v in after.json.items() if k != "status"} == {k: v for k, v in quote.items() if k != "status"}


@pytest.mark.parametrize(
    ("before", "step"),
    [
        ([], "accept"),
        ([], "decline"),
        (["issue"], "issue"),
        (["issue", "accept"], "withdraw"),
        (["issue", "accept"], "decline"),
        (["issue", "decline"], "accept"),
        (["withdraw"], "issue"),
    ],
)
def test_a_step_that_does_not_fit_is_409(estimator, before, step):
    """A step from the wrong status is 409 and changes nothing."""
    path = f"/v1/quotes/{estimator.quoted()['id']}"
    for done in before:
        assert estimator.post(f"{path}/{done}", If_Match="*").status_code == 200
    tag = estimator.get(path).headers["ETag"]
    response = estimator.post(f"{path}/{step}", If_Match=tag)
    assert (response.status_code, response.mimetype) == (409, "application/problem+json")
    assert estimator.get(path).headers["ETag"] == tag


def test_a_step_needs_if_match(estimator):
    """Without If-Match a step is 428 (RFC 6585, section 3), with an old, a weak or a foreign tag 412."""
    quote = estimator.quoted()
    path = f"/v1/quotes/{quote['id']}"
    tag = estimator.get(path).headers["ETag"]
    other = estimator.get(f"/v1/quotes/{estimator.quoted()['id']}").headers["ETag"]
    assert estimator.post(f"{path}/issue").status_code == 428
    for wrong in (other, f"W/{tag}", '"x"'):
        assert estimator.post(f"{path}/issue", If_Match=wrong).status_code == 412
    assert estimator.post(f"{path}/issue", If_Match=f'"x", {tag}').status_code == 200
    assert estimator.post(f"{path}/accept", If_Match=tag).status_code == 412


def test_the_tag_of_any_form_allows_a_step(estimator):
    """Who has read the PDF may issue with the PDF's tag: every form stands for the same state."""
    path = f"/v1/quotes/{estimator.quoted()['id']}"
    tag = estimator.get(f"{path}/quote.pdf").headers["ETag"]
    assert estimator.post(f"{path}/issue", If_Match=tag).status_code == 200


def test_two_who_decide_at_once_cannot_both(office, estimator):
    """Of two clients accepting and declining on the same tag one wins; the other gets 412 or 409."""
    path = f"/v1/quotes/{estimator.quoted()['id']}"
    tag = estimator.post(f"{path}/issue", If_Match="*").headers["ETag"]
    app, statuses = office.app(), []

    def decide(step: str) -> None:
        headers = {"Authorization": f"Bearer {office.keys['office']}", "If-Match": tag}
        statuses.append(app.test_client().post(f"{path}/{step}", headers=headers).status_code)

    threads = [threading.Thread(target=decide, args=(step,)) for step in ("accept", "decline")]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(statuses) == [200, 412]


def test_a_quote_holds_through_its_last_day_in_the_firms_zone(estimator, office):
    """A quote can be accepted until midnight of `valid_until` where the firm is (Chicago), not a second longer."""
    path = f"/v1/quotes/{(quote := estimator.quoted())['id']}"
    estimator.post(f"{path}/issue", If_Match="*")
    assert (quote["firm"]["time_zone"], quote["valid_until"]) == ("America/Chicago", "2026-12-25")
    midnight = office.clock.now.replace(month=12, day=26, hour=6, minute=0)  # 00:00 CST is 06:00 UTC
    office.clock.now = midnight
    assert estimator.post(f"{path}/accept", If_Match="*").status_code == 409
    office.clock.now = midnight - timedelta(seconds=1)
    assert estimator.post(f"{path}/accept", If_Match="*").status_code == 200


def test_an_issued_quote_is_served_as_stored(estimator, office):
    """After the price list changes, an issued quote's JSON is what it was."""
    quote = estimator.quoted()
    path = f"/v1/quotes/{quote['id']}"
    estimator.post(f"{path}/issue", If_Match="*")
    before = estimator.get(path).data
    dearer = changed("price_list.xlsx", {"Wages!B2": "99.00"})
    assert estimator.put("/v1/price-lists/standard", dearer).status_code == 200
    assert estimator.get(path).data == before
    assert estimator.quoted()["price_list"] == {"name": "standard", "version": 2}
