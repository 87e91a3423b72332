"""The manual beside the desk, in a real browser (Debian's chromium): gone to from a finding, read on a phone."""

from __future__ import annotations

from .browser import IN_BROWSER

pytestmark = IN_BROWSER


def test_a_finding_leads_to_its_page_and_the_desk_stays(page) -> None:  # type: ignore[no-untyped-def]
    page.click("[data-blank=motif]")
    page.click(".motifs button:has-text('beetle')")
    with page.expect_popup() as opened:
        page.click(".findings li .to-manual >> nth=0")
    manual = opened.value
    manual.wait_for_selector("h1")
    manual.wait_for_load_state("load")
    assert manual.url.rpartition("/")[2] == manual.inner_text("h1")
    assert manual.eval_on_selector("article img", "one => one.complete && one.naturalWidth") > 100
    assert page.inner_text("h1").startswith("beetle-")


def test_every_page_fits_a_phone_and_complains_of_nothing(page) -> None:  # type: ignore[no-untyped-def]
    with page.expect_popup() as opened:
        page.click(".to-manual >> text=The manual")
    manual = opened.value
    complaints: list[str] = []
    manual.on("console", lambda line: complaints.append(line.text) if line.type == "error" else None)
    manual.set_viewport_size({"width": 390, "height": 800})
    manual.wait_for_selector("h1")
    names = manual.eval_on_selector_all("article a", "all => all.map(one => one.href)")
    assert len(names) >= 18
    for address in names:
        manual.goto(address)
        assert manual.evaluate("document.documentElement.scrollWidth") <= 390, address
        for whole in manual.eval_on_selector_all("article img", "all => all.map(one => one.naturalWidth)"):
            assert whole > 100, address
    assert complaints == []
