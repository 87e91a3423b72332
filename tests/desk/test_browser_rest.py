"""Fonts handed in, refusals gone to, offers of rows and what is told while the desk works, in a real browser."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from .browser import IN_BROWSER
from .test_fonts import FONT, WORDS
from .test_refused import FALLING, TOUCHING, TWO_ROWS

pytestmark = IN_BROWSER


def test_a_font_is_handed_in_chosen_and_let_go(page: Any, tmp_path: Path) -> None:
    (tmp_path / "Hand.ttf").write_bytes(FONT)
    (tmp_path / "bad.ttf").write_bytes(b"wOF2 and no more")
    page.fill("#recipe-text", WORDS)
    page.wait_for_selector("[data-blank='text.0.words']")
    page.click("[data-more='text.0']")
    page.click("[data-blank='text.0.font']")
    page.wait_for_selector(".fonts button[aria-pressed=true]:has-text('our own')")
    page.set_input_files("#choices input[type=file]", tmp_path / "Hand.ttf")
    page.wait_for_selector(".fonts button[aria-pressed=true]:has-text('hand.ttf')")
    assert 'font = "hand.ttf"' in page.input_value("#recipe-text")
    assert "lies in your folder as hand.ttf" in page.inner_text("#taken")
    page.set_input_files("#choices input[type=file]", tmp_path / "bad.ttf")
    page.wait_for_selector("#refused:has-text('bad.ttf: no font with outlines')")
    page.click(".fonts button:has-text('our own')")
    page.wait_for_selector("[data-blank='text.0.font']:text-is('our own')")
    assert "font =" not in page.input_value("#recipe-text")
    page.keyboard.press("Escape")
    # Dropped anywhere on the page it becomes that of the words.
    page.evaluate(
        """bytes => {
          const data = new DataTransfer();
          data.items.add(new File([new Uint8Array(bytes)], "Hand.ttf"));
          document.dispatchEvent(new DragEvent("drop", { dataTransfer: data, cancelable: true }));
        }""",
        list(FONT),
    )
    page.wait_for_selector("[data-blank='text.0.font']:text-is('hand.ttf')")


@pytest.mark.parametrize("recipe", [TOUCHING, FALLING])
def test_what_is_refused_is_ringed_and_gone_to(page: Any, recipe: str) -> None:
    page.fill("#recipe-text", recipe)
    page.wait_for_selector(".tag.refused")
    assert page.is_disabled("#take")
    assert page.is_disabled("#put")
    assert "Below it is ringed" in page.inner_text("#refused")
    page.click(".findings button.row")
    page.wait_for_selector("svg.near .spot-ring")
    assert page.inner_text(".near-bar [role=status]").startswith("Place 1 of ")
    page.keyboard.press("Escape")
    page.wait_for_selector("svg.near", state="detached")
    page.focus(".tag.refused")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.matches('.findings .row.chosen')")
    page.click("#undo")
    page.wait_for_selector("#take:enabled")
    assert page.locator(".tag.refused").count() == 0


def test_an_offer_of_the_second_row_changes_that_row(page: Any) -> None:
    page.fill("#recipe-text", TWO_ROWS)
    page.click(".findings button.offer:text-is('Take gap 1mm')")
    page.wait_for_selector("[data-blank='row.1.gap']:text-is('1 mm')")
    assert page.input_value("#recipe-text").count("gap = ") == 1


@pytest.mark.parametrize("width", [390, 1280])
def test_the_bar_of_what_is_done_covers_no_button_at_the_end(page: Any, width: int) -> None:
    # What comes later would make the page longer, and a smooth way to its end is still under way when it is measured.
    page.emulate_media(reduced_motion="reduce")
    page.set_viewport_size({"width": width, "height": 700})
    page.wait_for_selector("#bench figure:not(.unjudged)")
    page.evaluate("document.getElementById('work').classList.add('on'); document.getElementById('stop').hidden = false")
    page.evaluate("window.scrollTo(0, document.body.scrollHeight)")
    bar = page.locator("#work").bounding_box()
    for button in ("#take", "#put", "#save"):
        box = page.locator(button).bounding_box()
        overlaps = box["y"] < bar["y"] + bar["height"] and box["y"] + box["height"] > bar["y"]
        beside = box["x"] >= bar["x"] + bar["width"] or box["x"] + box["width"] <= bar["x"]
        assert not overlaps or beside, button
