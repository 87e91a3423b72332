"""Choosing in a real browser: clauses, rows, patterns, pieces, what does not do, sliders, sizes, drawings handed in."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from .browser import IN_BROWSER

pytestmark = IN_BROWSER

SPRIG = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="12mm" height="10mm" viewBox="0 0 12 10">'
    "<path d='M 0 10 L 6 0 L 12 10 Z'/></svg>"
)


def _settled(page: Any) -> None:
    """Wait until what was changed is shown."""
    page.wait_for_timeout(60)
    page.wait_for_selector("#bench:not([aria-busy])")
    page.wait_for_timeout(60)


def _say(page: Any, words: str) -> None:
    page.click("#more")
    page.click(f"#offers button:text-is('{words}')")
    _settled(page)


def _put(page: Any, words: str) -> None:
    page.fill("#choices input[type=text] >> nth=0", words)
    page.keyboard.press("Enter")
    _settled(page)


def _sentence(page: Any) -> str:
    return " ".join(page.inner_text("#sentence").split())


def _recipe(page: Any) -> str:
    return str(page.input_value("#recipe-text"))


def test_the_page_stays_calm_until_more_is_asked_for(page: Any) -> None:
    assert page.locator("#sentence p").count() == 2
    assert page.is_hidden("#offers")
    _say(page, "the edge between")
    assert "The edge between is kept, by a usual depth." in _sentence(page)
    assert page.evaluate("document.activeElement.closest('#choices') !== null")
    page.click("#choices button:has-text('hollow')")
    page.wait_for_selector("[data-blank=between]:text-is('hollow')")
    _settled(page)
    assert 'between = "hollow"' in _recipe(page)


def test_a_second_row_is_added_changed_and_taken_away(page: Any) -> None:
    before = _recipe(page)
    _say(page, "another row")
    page.wait_for_selector("[data-blank='row.1.motif']")
    page.click(".motifs button:has-text('scallop')")
    page.wait_for_selector("[data-blank='row.1.motif']:text-is('scallop')")
    page.click("[data-blank='row.1.count']")
    _put(page, "8")
    assert "Then put 8 of scallop facing in." in _sentence(page)
    assert page.inner_text("#choices code") == "in the recipe: row 2: count"
    page.wait_for_selector(".said:has-text('8 scallops in an opening of 50 mm')")
    page.click("text=Take this row away")
    _settled(page)
    assert _recipe(page) == before
    page.click("#undo")
    page.wait_for_selector("[data-blank='row.1.count']:text-is('8')")


def test_several_motifs_go_in_turn(page: Any) -> None:
    page.click("[data-blank=motif]")
    page.wait_for_selector(".motifs button")
    page.click("text=Another motif in turn")
    page.wait_for_selector(".turns button:has-text('2: bean leaf')")
    page.click(".motifs button:has-text('arch')")
    page.wait_for_selector("[data-blank=motif]:has-text('bean leaf and arch in turn')")
    page.wait_for_selector(".turns button:has-text('2: arch')")
    page.fill(".turns input >> nth=0", "0,8")
    page.keyboard.press("Enter")
    _settled(page)
    assert '{ motif = "arch", scale = 0.8 }' in _recipe(page)
    page.click("text=Take 2 out of the turn")
    page.wait_for_selector("[data-blank=motif]:text-is('bean leaf')")


def test_words_holes_and_cards_below_have_clauses_of_their_own(page: Any) -> None:
    _say(page, "words on it")
    _put(page, "Seed swap")
    page.wait_for_selector("[data-blank='text.0.words']:text-is('Seed swap')")
    page.click("[data-more='text.0']")
    page.wait_for_selector("[data-blank='text.0.size']")
    page.click("[data-blank='text.0.at']")
    page.click("#choices button:text-is('bottom')")
    _settled(page)
    for place in range(2):
        _say(page, "a round hole")
        page.wait_for_selector(f"[data-blank='hole.{place}.size']")
        page.click(f"[data-blank='hole.{place}.at']")
        page.click(f"#choices button:text-is('{('left', 'right')[place]}')")
        _settled(page)
    _say(page, "a card below")
    page.wait_for_selector("[data-blank='layer.0.border']")
    said = _sentence(page)
    assert "Say Seed swap along the rim, at the bottom, as mark." in said
    assert "A round hole of 4 mm at the left." in said
    assert "Below it lies cream card that shows 5 mm all round; its opening follows." in said
    page.click("text=Take this hole away >> nth=0")
    _settled(page)
    assert "A round hole of 4 mm at the right." in _sentence(page)
    assert _recipe(page).count("[[piece.hole]]") == 1


def test_several_pieces_are_chosen_and_changed_one_by_one(page: Any) -> None:
    _say(page, "another piece")
    page.wait_for_selector("#pieces button >> nth=1")
    page.click("h1 [data-blank=name]")
    _put(page, "badge")
    page.click("[data-blank=count]")
    _put(page, "12")
    page.click("#pieces button >> nth=0")
    page.wait_for_selector("[data-blank=count]:text-is('16')")
    page.click("#pieces button:text-is('badge')")
    page.wait_for_selector("[data-blank=count]:text-is('12')")
    assert _recipe(page).count("[[piece]]") == 2
    _say(page, "rings from one sheet")
    page.wait_for_selector("#sentence:has-text('cut rings of 60-140 by 20')")
    page.click("#pieces button:text-is('badge')")
    _say(page, "take this piece away")
    assert _recipe(page).count("[[piece]]") == 1


def test_what_does_not_do_is_said_at_its_blank_and_stays_typed(page: Any) -> None:
    before = _recipe(page)
    page.click("[data-blank=size]")
    _put(page, "100 milimeters")
    fault = page.locator("#choices .fault")
    assert "no such unit" in fault.inner_text()
    assert page.input_value("#choices input[type=text]") == "100 milimeters"
    assert page.evaluate("document.activeElement.getAttribute('aria-invalid')") == "true"
    assert page.evaluate("document.getElementById(document.activeElement.getAttribute('aria-describedby')).innerText")
    assert _recipe(page) == before
    for typed, shown in (
        ("3 1/4 in", "3 1/4 in"),
        ("82,5mm", "82,5 mm"),
        ("3½ in", "3½ in"),
        ("120x80mm", "120 x 80 mm"),
    ):
        _put(page, typed)
        page.wait_for_selector(f"[data-blank=size]:text-is('{shown}')")
        assert fault.inner_text() == ""
        assert f'size = "{typed}"' in _recipe(page)


def test_a_slider_moves_by_keyboard_and_counts_as_one_change(page: Any) -> None:
    page.click("[data-blank=size]")
    page.focus("#choices input[type=range]")
    for _ in range(12):
        page.keyboard.press("ArrowRight")
    page.wait_for_selector("[data-blank=size]:text-is('82 mm')")
    _settled(page)
    assert 'size = "82mm"' in _recipe(page)
    assert page.inner_text("#choices output") == "82 mm"
    page.keyboard.press("Escape")
    page.keyboard.press("Control+z")
    page.wait_for_selector("[data-blank=size]:text-is('76 mm')")
    assert page.is_disabled("#undo")


def test_an_oval_is_moved_by_a_slider_and_keeps_its_proportion(page: Any) -> None:
    page.click("[data-blank=size]")
    _put(page, "120x90mm")
    page.wait_for_selector("[data-blank=size]:text-is('120 x 90 mm')")
    assert "with a 50 mm hole in the middle" in _sentence(page)
    page.focus("#choices input[type=range]")
    for _ in range(8):
        page.keyboard.press("ArrowRight")
    page.wait_for_selector("[data-blank=size]:text-is('124 x 93 mm')")
    _settled(page)
    assert 'size = "124x93mm"' in _recipe(page)
    assert page.inner_text("#choices output") == "124 x 93 mm"
    page.focus("#choices input[type=text]")
    _put(page, "4x3in")
    page.focus("#choices input[type=range]")
    page.keyboard.press("ArrowRight")
    page.wait_for_selector("[data-blank=size]:text-is('4.05 x 3.04 in')")
    page.click("[data-blank=middle]")
    _put(page, "80x50mm")
    page.wait_for_selector("[data-blank=middle]:text-is('an 80 x 50 mm hole in the middle')")


def test_a_cell_of_the_chart_takes_its_size_and_count(page: Any) -> None:
    page.click("#views button:text-is('Sizes')")
    page.wait_for_selector(".chart td.chosen button:has-text('3.38')")
    assert page.inner_text(".chart thead th:has-text('15')").split() == ["15", "24", "deg"]
    assert page.inner_text(".chart tr.hard th").startswith("55 mm")
    page.focus(".chart button[aria-label^='15 on 80 mm']")
    page.keyboard.press("Enter")
    page.wait_for_selector(".chart td.chosen button[aria-label^='15 on 80 mm']")
    assert _sentence(page).startswith("Put 15 of bean leaf round a circle of 80 mm")


def test_drawings_are_handed_in_kept_and_taken_off_again(page: Any, tmp_path: Path) -> None:
    for name in ("sprig", "twig"):
        (tmp_path / f"{name}.svg").write_text(SPRIG, encoding="utf-8")
    (tmp_path / "bad.svg").write_text("GIF89a", encoding="utf-8")
    (tmp_path / "drawing.dxf").write_text("0\nEOF\n", encoding="utf-8")
    page.click("[data-blank=motif]")
    choose = "#choices input[type=file]"
    page.set_input_files(choose, [tmp_path / "sprig.svg", tmp_path / "twig.svg"])
    page.wait_for_selector("[data-blank=motif]:text-is('twig')")
    page.wait_for_selector(".motifs button:has-text('sprig')")
    for name in ("bad.svg", "drawing.dxf"):
        page.set_input_files(choose, tmp_path / name)
        page.wait_for_selector(f"#refused:has-text('{name}')")
    page.click("text=Take twig off the list")
    page.wait_for_selector("#refused:has-text('Choose another motif there first')")
    page.click("text=Take sprig off the list")
    _settled(page)
    page.wait_for_selector(".motifs button:has-text('sprig')", state="detached")
    page.reload()
    page.wait_for_selector("[data-blank=motif]:text-is('twig')")
    page.click("[data-blank=motif]")
    page.wait_for_selector(".motifs button[aria-pressed=true]:has-text('twig')")


def test_corner_motifs_are_offered_only_where_they_go(page: Any) -> None:
    page.click("[data-blank=motif]")
    page.wait_for_selector(".motifs button:has-text('picket corner')")
    page.click("[data-blank=place]")
    page.click("#choices button:has-text('window')")
    _settled(page)
    page.click("[data-blank=motif]")
    page.wait_for_selector(".motifs button:has-text('arch')")
    assert page.locator(".motifs button:has-text('picket corner')").count() == 0


@pytest.mark.parametrize("width", [320, 390])
def test_all_that_can_be_said_fits_a_phone(page: Any, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 800})
    _say(page, "positions")
    page.keyboard.press("Escape")
    page.click("#more")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.click("#views button:text-is('Sizes')")
    page.wait_for_selector(".chart td.chosen")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
