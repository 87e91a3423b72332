"""Every view looked through for what keeps people from using it, by axe-core, by day and by dusk, wide and narrow."""

from __future__ import annotations

from importlib import resources
from typing import Any

import pytest

from .browser import IN_BROWSER
from .conftest import RECIPE
from .test_refused import FALLING, TOUCHING
from .test_sheets import TAGS

pytestmark = IN_BROWSER

BAD = ("serious", "critical")
BEETLE = RECIPE.replace("bean-leaf", "beetle")
TOO_MANY = RECIPE.replace("16", "40")
LETTERED = RECIPE + '\n[[piece.text]]\nwords = "Seed swap"\n\n[[piece.layer]]\ncard = "sand"\nborder = "5mm"\n'
SHOWN = {"As cut": ".findings.bits", "Mended": ".compared", "Sizes": ".chart td", "On the sheet": ".laid"}


def _faults(page: Any) -> list[tuple[str, str]]:
    """Return the rules that are broken badly, each with where."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(resources.files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8"))
    found = page.evaluate("axe.run(document, { resultTypes: ['violations'] })")
    assert found["passes"]
    return [
        (broken["id"], str(node["target"]))
        for broken in found["violations"]
        if broken["impact"] in BAD
        for node in broken["nodes"]
    ]


def _put(page: Any, recipe: str, shown: str) -> None:
    page.fill("#recipe-text", recipe)
    page.wait_for_selector(shown)


def _looked_at(page: Any, scheme: str, width: int) -> None:
    pytest.importorskip("axe_playwright_python")
    page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
    page.set_viewport_size({"width": width, "height": 900})


ALL = [("light", 1280), ("light", 390), ("dark", 1280), ("dark", 390)]
IN_EVERY_RUN = [
    pytest.param("light", 1280, marks=pytest.mark.browser),
    pytest.param("dark", 390, marks=pytest.mark.browser),
]


@pytest.mark.parametrize(("scheme", "width"), [*IN_EVERY_RUN, *ALL[1:3]])
def test_no_view_has_a_serious_fault(page: Any, scheme: str, width: int) -> None:
    _looked_at(page, scheme, width)
    faults = {"opened": _faults(page)}
    for words, shown in SHOWN.items():
        if words == "As cut":
            _put(page, BEETLE, ".findings button.row")
            page.click("button:text-is('Dimensions')")
            page.click("button:text-is('Spokes and positions')")
            faults["findings, dimensions, positions"] = _faults(page)
        if words == "On the sheet":
            _put(page, TAGS, "h1:has-text('tag')")
        page.click(f"#views button:text-is('{words}')")
        page.wait_for_selector(shown)
        faults[words] = _faults(page)
        assert page.evaluate("document.documentElement.scrollWidth") <= width, words
    page.click("#views button:text-is('The piece')")
    _put(page, TOO_MANY, "#refused button")
    page.click("#more")
    page.click("[data-blank=motif]")
    page.wait_for_selector(".motifs button")
    faults["refused, more to say, motifs"] = _faults(page)
    for key in ("count", "size", "place"):
        page.click(f"[data-blank={key}]")
        page.wait_for_selector("#choices button")
        faults[key] = _faults(page)
    page.goto(page.url + "manual/thin-web")
    page.wait_for_selector("h1")
    faults["the manual"] = _faults(page)
    assert {view: found for view, found in faults.items() if found} == {}


@pytest.mark.browser
@pytest.mark.parametrize(("scheme", "width"), ALL[1:3])
def test_neither_the_piece_nor_a_refusal_has_a_serious_fault(page: Any, scheme: str, width: int) -> None:
    _looked_at(page, scheme, width)
    faults = {"opened": _faults(page)}
    _put(page, TOUCHING, ".tag.refused")
    page.click(".findings button.row")
    faults["refused, gone to"] = _faults(page)
    assert {state: found for state, found in faults.items() if found} == {}
    assert page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_what_waits_for_its_findings_has_no_serious_fault(page: Any, scheme: str) -> None:
    _looked_at(page, scheme, 1280)
    _put(page, BEETLE, "#bench figure:not(.unjudged) .findings button.row")
    page.route("**/findings", lambda route: None)
    _put(page, BEETLE.replace("76mm", "79mm"), "#bench figure.unjudged .findings .row")
    assert _faults(page) == []


@pytest.mark.parametrize(("scheme", "width"), ALL)
def test_no_choice_and_nothing_that_is_taken_has_a_serious_fault(page: Any, scheme: str, width: int) -> None:
    _looked_at(page, scheme, width)
    faults = {}
    _put(page, LETTERED, "[data-blank='text.0.words']")
    page.click("[data-more='text.0']")
    for address in page.eval_on_selector_all("[data-blank]", "all => all.map(one => one.dataset.blank)"):
        if page.get_attribute(f"[data-blank='{address}']", "aria-expanded") != "true":
            page.click(f"[data-blank='{address}']")
        page.wait_for_selector("#choices button")
        if address.endswith("font"):
            page.wait_for_selector(".fonts button")
        faults[address] = _faults(page)
        assert page.evaluate("document.documentElement.scrollWidth") <= width, address
    page.keyboard.press("Escape")
    page.click("button:text-is('Measure a gap')")
    page.wait_for_selector(".measuring select")
    faults["measured"] = _faults(page)
    with page.expect_download():
        page.click("#take")
    page.wait_for_selector("#taken:has-text('on its way')")
    faults["taken"] = _faults(page)
    page.evaluate("document.getElementById('work').classList.add('on'); document.getElementById('stop').hidden = false")
    faults["at work"] = _faults(page)
    _put(page, FALLING, ".tag.refused")
    faults["falls apart"] = _faults(page)
    assert {state: found for state, found in faults.items() if found} == {}
