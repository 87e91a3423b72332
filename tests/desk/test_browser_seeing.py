"""Seeing a piece in a real browser: dimensions, a gap measured, places gone to, the card as cut, mending compared."""

from __future__ import annotations

import re

import pytest

from .browser import IN_BROWSER

pytestmark = IN_BROWSER

BEETLES = '[[piece]]\ncard = "brick"\nsize = "76mm"\nopening = "50mm"\n\n[[piece.row]]\nmotif = "beetle"\ncount = 3\n'
TWO = '[[piece]]\nname = "a"\nsize = "60mm"\n\n[[piece.row]]\nmotif = "arch"\ncount = 6\n\n' + BEETLES.replace(
    "[[piece]]", '[[piece]]\nname = "b"'
)
OVAL = (
    '[[piece]]\nsize = "90x60mm"\nrim = "15mm"\n\n[[piece.row]]\nmotif = "arch"\ncount = 8\nplace = "{}"\nscale = 0.6\n'
)


def _recipe(page, text: str) -> None:  # type: ignore[no-untyped-def]
    page.fill("#recipe-text", text)
    page.wait_for_function(
        'text => { const [, motif] = text.match(/.*motif = "([a-z-]+)"/s);'
        " return [...document.querySelectorAll('#bench figure')].some(one => one.textContent.includes(motif)); }",
        arg=text,
    )


def _view(page) -> list[float]:  # type: ignore[no-untyped-def]
    return [float(part) for part in page.get_attribute("#bench figure > svg", "viewBox").split()]


def test_dimension_lines_come_and_go_and_stay_through_changes(page) -> None:  # type: ignore[no-untyped-def]
    page.click("text=Dimensions")
    page.wait_for_selector(".dimensions text:has-text('across 107.9 mm (4 1/4 in)')")
    words = page.locator("#bench figure > svg .dimensions text").all_text_contents()
    assert {word.split()[0] for word in words} == {"across", "base", "opening", "rim"}
    of_motif = page.locator(".motif-drawings text").all_text_contents()
    assert of_motif == ["height 16 mm (5/8 in)", "foot 4.4 mm (0.17 in)"]
    page.click(".counts button >> nth=0")
    page.wait_for_selector("h1:has-text('bean-leaf-15')")
    page.wait_for_selector(".dimensions text:has-text('base 76 mm')")
    page.click("text=Dimensions")
    page.wait_for_selector(".dimensions", state="detached")


def test_a_gap_is_measured_by_click_and_by_keyboard(page) -> None:  # type: ignore[no-untyped-def]
    page.click("text=Measure a gap")
    told = page.locator(".measuring strong")
    page.wait_for_selector(".measuring strong:has-text('bean leaf 1 to bean leaf 2: 3.38 mm')")
    page.locator(".repeat").nth(2).click()
    page.locator(".repeat").nth(3).click()
    page.wait_for_selector(".measuring strong:has-text('bean leaf 3 to bean leaf 4: 3.38 mm')")
    assert page.locator(".repeat.chosen").count() == 2
    assert page.locator(".measure text").all_text_contents() == ["3.38 mm"]
    page.focus(".measuring select[aria-label=To]")
    page.keyboard.press("ArrowDown")
    page.wait_for_selector(".measuring strong:has-text('bean leaf 3 to bean leaf 5: 20.24 mm')")
    page.click("text=Measure a gap")
    page.wait_for_selector(".repeat", state="detached")
    assert not told.is_visible()


def test_a_place_is_gone_to_and_the_next_and_back(page) -> None:  # type: ignore[no-untyped-def]
    _recipe(page, BEETLES)
    page.wait_for_selector(".findings button.row strong:has-text('x6')")
    whole = _view(page)
    row = page.locator(".findings button.row:has(strong:has-text('x6'))").first
    label = row.locator("strong").inner_text()
    row.focus()
    page.keyboard.press("Enter")
    near = _view(page)
    assert near[2] < whole[2] / 2
    spot = page.locator(".spot circle")
    assert near[0] + near[2] / 2 == pytest.approx(float(spot.get_attribute("cx")), abs=0.05)
    assert near[1] + near[3] / 2 == pytest.approx(float(spot.get_attribute("cy")), abs=0.05)
    assert page.text_content(".spot text") == label.split()[0] == page.get_attribute(".tag.chosen", "data-number")
    page.click("text=Next place")
    page.wait_for_selector(".near-bar:has-text('Place 2 of 6')")
    assert _view(page) != near
    page.click("text=The whole piece")
    assert _view(page) == whole
    assert page.locator(".spot").count() == 0
    assert page.evaluate("document.activeElement.classList.contains('row')")
    page.keyboard.press("Enter")
    assert _view(page) == near
    page.keyboard.press("Escape")
    assert _view(page) == whole


def test_the_card_as_cut_lists_every_bit(page) -> None:  # type: ignore[no-untyped-def]
    page.click("#views >> text=As cut")
    page.wait_for_selector(".hatched")
    numbers = page.locator("text.bit").all_text_contents()
    assert numbers == [str(n) for n in range(1, 18)]
    assert page.locator(".bits .row strong").all_inner_texts() == ["1 to 16", "17"]
    hatched = page.eval_on_selector(".hatched", "one => getComputedStyle(one).fill")
    assert re.fullmatch(r'url\("#waste-0"\)', hatched)
    page.click(".bits .row >> nth=0")
    assert page.locator(".hatched.chosen").count() == 16
    page.wait_for_selector(".near-bar:has-text('Place 1 of 16')")


def test_mending_is_compared_kept_and_left(page) -> None:  # type: ignore[no-untyped-def]
    assert not page.is_visible("#views >> text=Mended")
    _recipe(page, BEETLES)
    page.click("#views >> text=Mended")
    page.wait_for_selector(".compared.both")
    before, after = (page.locator(".compared svg").nth(k) for k in (0, 1))
    assert before.locator(".edge").get_attribute("d") != after.locator(".edge").get_attribute("d")
    assert page.locator(".changed .row").count() == 3
    page.click(".changed .row >> nth=1")
    assert before.get_attribute("viewBox") == after.get_attribute("viewBox")
    assert page.locator(".spot").count() == 2
    page.click("text=Mend what can be mended")
    page.wait_for_selector("[data-blank=mend]:has-text('all that can be')")
    page.wait_for_selector("button[aria-pressed=true]:has-text('Mend what can be mended')")
    page.click("text=Leave it as it was")
    page.wait_for_selector("[data-blank=mend]:has-text('nothing')")
    assert "mend" not in page.input_value("#recipe-text")


def test_on_a_phone_one_is_shown_at_a_time(page) -> None:  # type: ignore[no-untyped-def]
    page.set_viewport_size({"width": 390, "height": 800})
    _recipe(page, BEETLES)
    page.click("#views >> text=Mended")
    page.wait_for_selector(".compared")
    shown = page.locator(".compared svg")
    assert [shown.nth(k).is_visible() for k in (0, 1)] == [False, True]
    page.click("text=Show it as it was")
    assert [shown.nth(k).is_visible() for k in (0, 1)] == [True, False]
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.click("#views >> text=The piece")
    page.click("text=Dimensions")
    page.wait_for_selector(".dimensions text")
    page.click("text=Measure a gap")
    page.wait_for_selector(".measure")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


@pytest.mark.parametrize("place", ["out", "in", "window", "across"])
def test_a_position_of_an_oval_is_left_out_by_a_click(page, place: str) -> None:  # type: ignore[no-untyped-def]
    _recipe(page, OVAL.format(place))
    page.click("text=Spokes and positions")
    page.click(".position[aria-label^='position 3,']")
    page.wait_for_selector("text=Put 3 back")
    # The button is there with the change, the picture when it is drawn anew.
    page.wait_for_selector(".position[aria-label^='position 3,']", state="detached")
    assert page.locator(".position").count() == 7


def test_of_several_pieces_each_is_looked_at_by_itself(page) -> None:  # type: ignore[no-untyped-def]
    _recipe(page, TWO)
    page.wait_for_selector("#bench figure >> nth=1")
    page.locator("text=Measure a gap").nth(1).click()
    page.wait_for_selector(".measuring strong:has-text('beetle 1 to beetle 2')")
    assert page.locator(".measure").count() == 1
    page.click("text=Dimensions >> nth=0")
    page.wait_for_selector("#bench figure > svg .dimensions >> nth=1")
    page.wait_for_selector(".measuring strong:has-text('beetle 1 to beetle 2')")
    page.click("#views >> text=Mended")
    page.wait_for_selector(".compared")
    assert page.locator("#bench figure").count() == 1
    page.click("text=Mend what can be mended")
    page.wait_for_selector("button[aria-pressed=true]:has-text('Mend what can be mended')")
    assert page.input_value("#recipe-text").count('mend = "all"') == 2
