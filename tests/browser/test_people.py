"""From the first account to a revoked link, in real browsers of different people."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from playwright.sync_api import expect
from tests.browser.conftest import PHONE, TABLET
from tests.browser.test_measuring import LENGTH

from bolewright.store.folder import first_code

PASSWORD = "oak on the garage 7"


def make_account(page: Any, name: str, login: str) -> None:
    """Fill in and send the form of a new account."""
    for field, typed in (("name", name), ("login", login), ("password", PASSWORD), ("again", PASSWORD)):
        page.fill(f"#{field}", typed)
    page.click("main button")
    page.wait_for_load_state()


def sign_in(page: Any) -> None:
    """As Bo, on the page that asks for it."""
    page.fill("#login", "bo")
    page.fill("#password", PASSWORD)
    page.click("main button:has-text('Sign in')")


def ended_in_the_middle(crew: Any, plain: Any, job: Any, pictures: Path) -> None:
    """The session is gone when an entry is sent: kept on the tablet with scripting, carried through without."""
    crew.goto(f"/job/{job.key}/measure")
    crew.context.clear_cookies(name="bolewright-session")
    crew.fill(LENGTH, "17 ft")
    crew.press(LENGTH, "Enter")
    expect(crew.locator("#signal")).to_contain_text("You are signed out: 1 entry kept on this tablet")
    assert "You are signed out: kept on this tablet" in crew.inner_text("#said")
    crew.screenshot(path=pictures / "ended-390.png")
    crew.click("#signal a:has-text('Sign in')")
    sign_in(crew)
    expect(crew.locator("#signal")).to_contain_text("Sent: 1 entry")
    expect(crew.locator(LENGTH)).to_have_value("17 ft")
    assert list(job.revisions.values_list("number", "by"))[1:] == [(2, "Bo Ash")]

    plain.goto(f"/job/{job.key}/measure")
    sign_in(plain)
    for typed, cookie, said in (
        ("18 ft", "bolewright-session", "You are signed out, so what you sent was not kept. It comes with this page"),
        ("18 6", "csrftoken", "This form is stale"),
    ):
        plain.fill(LENGTH, typed)
        plain.context.clear_cookies(name=cookie)
        plain.click("#sheet p button")
        assert said in plain.inner_text("main")
        plain.screenshot(path=pictures / f"carried-{cookie}-390.png")
        if plain.locator("#login").count():
            sign_in(plain)
            plain.screenshot(path=pictures / "again-390.png", full_page=True)
        plain.click("button:has-text('Send it once more')")
        plain.wait_for_url("**/measure")
    assert plain.input_value(LENGTH) == "18 ft 6 in"
    assert job.latest.number == 4


def test_owner_crew_and_somebody_outside(
    device: Any, keep: Any, axe: str, settings: Any, data: Path, pictures: Path
) -> None:
    """First run, the owner invites crew, crew may not see the people, a link is opened outside and revoked."""
    settings.BOLEWRIGHT_ALONE = False
    job, found = keep(), []

    def looked_at(page: Any, name: str) -> None:
        page.screenshot(path=pictures / f"people-{name}.png", full_page=True)
        page.evaluate(axe)
        result = page.evaluate("axe.run({exclude: ['figure svg *']}, {resultTypes: ['violations']})")
        serious = [v for v in result["violations"] if v["impact"] in ("serious", "critical")]
        found.extend((name, v["id"], v["nodes"][0]["html"][:140]) for v in serious)
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), name

    owner, crew, outside = device(TABLET), device(PHONE), device(PHONE)
    owner.goto("/")
    assert owner.url.endswith("/first")
    looked_at(owner, "first")
    owner.fill("#code", first_code(data))
    make_account(owner, "Ann Field", "ann")
    owner.fill("#note", "Bo")
    owner.click("text=Make the link")
    link = owner.inner_text("#link")
    looked_at(owner, "owner")

    crew.goto(link)
    looked_at(crew, "invited")
    make_account(crew, "Bo Ash", "bo")
    assert crew.goto("/people").status == 403
    assert crew.goto(f"/job/{job.key}/shares").status == 403
    crew.goto(f"/job/{job.key}/call")
    assert "Bo Ash" in crew.inner_text(".block-line")
    crew.click("summary:has-text('Set-up')")
    crew.click("text=Sign out")
    crew.wait_for_selector("#login")
    looked_at(crew, "sign-in")
    sign_in(crew)
    crew.wait_for_selector(".jobs")
    ended_in_the_middle(crew, device(PHONE, java_script_enabled=False), job, pictures)
    crew.goto("/account")
    looked_at(crew, "account")

    owner.goto(f"/job/{job.key}/shares")
    owner.fill("#share-label", "the adjuster")
    owner.click("text=Make the link")
    shared = owner.inner_text("#link")
    looked_at(owner, "shares")
    assert outside.goto(shared).status == 200
    assert "On the building" in outside.inner_text("main")
    looked_at(outside, "shared")
    assert outside.goto(f"/job/{job.key}/call").status == 401
    owner.goto(f"/job/{job.key}/shares")
    assert "Opened 1 time" in owner.inner_text("main")
    owner.click("button:has-text('Revoke')")
    owner.wait_for_selector(".view.waived")
    assert outside.goto(shared).status == 404
    looked_at(outside, "gone")
    assert not found, "\n".join(map(str, found))
