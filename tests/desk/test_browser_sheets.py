"""Sheets in a real browser: pieces dragged, moved by keys, turned, ringed where they lie too near, and taken."""

from __future__ import annotations

import re
import zipfile
from pathlib import Path
from typing import Any

import pytest

from frameforge.cli.entry import main

from .browser import IN_BROWSER
from .test_sheets import TAGS

pytestmark = IN_BROWSER

PLACE = re.compile(r"from_left = ([\d.]+), from_bottom = ([\d.]+)(?:, turn = ([\d.]+))?")


@pytest.fixture
def bench(page: Any) -> Any:
    """The page with three tags on a sheet, one above the other, 5 mm apart."""
    page.fill("#recipe-text", TAGS.replace("[sheets]", '[files]\nformats = ["svg"]\n\n[sheets]'))
    page.wait_for_selector("h1:has-text('tag')")
    page.click("#views button:has-text('On the sheet')")
    page.wait_for_selector(".laid >> nth=2")
    return page


def places(page: Any) -> list[tuple[float, float, float]]:
    """Return where the recipe on the page says that its pieces lie, and how they are turned."""
    found = PLACE.findall(page.input_value("#recipe-text"))
    return [(float(left), float(bottom), float(turn or 0)) for left, bottom, turn in found]


def wait_for(page: Any, row: int, wanted: tuple[float, float, float], within: float = 0.1) -> None:
    """Wait until the recipe says that a piece lies at a place, to so many mm."""
    for _ in range(300):
        found = places(page)
        if len(found) > row and all(abs(a - b) <= within for a, b in zip(found[row], wanted, strict=True)):
            return
        page.wait_for_timeout(100)
    raise AssertionError(f"{places(page)}, wanted {wanted} for {row}")


def held(page: Any, row: int) -> tuple[float, float, float]:
    """Take up a piece by the mouse; return where the mouse is, and how many px a mm takes."""
    piece = page.locator(f".laid[data-row='{row}']")
    piece.scroll_into_view_if_needed()
    box = piece.locator(".piece-card").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    sheet = page.locator(".sheet >> nth=0").bounding_box()
    return x, y, sheet["width"] / 210


@pytest.mark.browser
def test_a_piece_is_dragged_told_on_the_way_and_put_back(bench: Any) -> None:
    x, y, per_mm = held(bench, 2)
    bench.mouse.move(x + 30 * per_mm, y - 60 * per_mm, steps=6)
    bench.wait_for_selector(".nearness")
    bench.wait_for_selector(".near:has-text('tag 3: ')")
    assert "wanted" not in bench.inner_text(".near")
    bench.mouse.up()
    wait_for(bench, 2, (70, 155, 0), within=0.8)
    assert places(bench)[:2] == [(40, 25, 0), (40, 60, 0)]
    assert bench.locator(".fault-ring").count() == 0
    bench.click("#undo")
    wait_for(bench, 2, (40, 95, 0))
    bench.wait_for_selector("#redo:not([disabled])")
    bench.click("#redo")
    wait_for(bench, 2, (70, 155, 0), within=0.8)


def test_a_piece_is_moved_and_turned_by_keys_alone(bench: Any) -> None:
    bench.focus(".laid[data-row='2']")
    bench.keyboard.press("ArrowRight")
    bench.keyboard.press("Shift+ArrowUp")
    bench.keyboard.press("Shift+ArrowUp")
    bench.keyboard.press("ArrowDown")
    wait_for(bench, 2, (41, 114, 0))
    # What is moved keeps the focus, so that keys go on with it.
    bench.wait_for_selector(".laid.chosen[data-row='2']:focus")
    bench.keyboard.press("r")
    wait_for(bench, 2, (41, 114, 90))
    bench.fill(".by input", "30")
    bench.click(".hold button:text-is('Turn')")
    wait_for(bench, 2, (41, 114, 120))
    bench.focus(".laid[data-row='2']")
    bench.keyboard.press("Shift+R")
    wait_for(bench, 2, (41, 114, 90))


def test_a_place_too_near_is_ringed_refused_and_moved_clear(bench: Any, tmp_path: Path) -> None:
    x, y, per_mm = held(bench, 2)
    bench.mouse.move(x, y + 4 * per_mm, steps=4)
    bench.wait_for_selector(".near.wrong:has-text('3 mm wanted')")
    bench.wait_for_selector(".nearness circle")
    bench.mouse.up()
    bench.wait_for_selector(".fault-ring")
    assert "tag 3 lies" in bench.inner_text(".findings")
    bench.click("#take")
    bench.wait_for_selector("#refused:has-text('3 mm wanted')")
    bench.click(".findings button")
    bench.wait_for_selector(".laid.chosen[data-row='2']")
    bench.click("text=Move it clear")
    bench.wait_for_selector(".fault-ring", state="detached")
    with bench.expect_download() as taken:
        bench.click("#take")
    taken.value.save_as(tmp_path / "taken.zip")
    (tmp_path / "recipe.toml").write_text(bench.input_value("#recipe-text"), encoding="utf-8")
    assert main(["make", str(tmp_path / "recipe.toml"), "--out", str(tmp_path / "made")]) == 0
    with zipfile.ZipFile(tmp_path / "taken.zip") as held_files:
        found = {name: held_files.read(name) for name in held_files.namelist()}
    assert found == {path.name: path.read_bytes() for path in (tmp_path / "made").iterdir()}


def test_a_piece_goes_to_another_sheet_by_button_and_by_hand(bench: Any) -> None:
    bench.click(".laid[data-row='1'] .piece-card")
    bench.click("text=To a new sheet")
    bench.wait_for_selector("h2:has-text('moss-sheet-2')")
    bench.set_viewport_size({"width": 1280, "height": 2600})
    held(bench, 2)
    second = bench.locator(".sheet >> nth=1").bounding_box()
    bench.mouse.move(second["x"] + second["width"] / 2, second["y"] + second["height"] / 4, steps=8)
    bench.wait_for_selector(".sheet >> nth=1 >> .nearness")
    bench.mouse.up()
    bench.wait_for_selector(".sheet >> nth=1 >> .laid[data-row='2']")
    wait_for(bench, 2, (105, 297 * 3 / 4, 0), within=1.5)
    bench.click("text=Lay them anew")
    bench.wait_for_selector("h2:has-text('moss-sheet-2')", state="detached")
    assert places(bench) == []


def test_a_finger_scrolls_until_a_piece_is_chosen(browser: Any, address: str) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 800}, has_touch=True, is_mobile=True)
    page = context.new_page()
    page.goto(address)
    page.wait_for_selector("#bench figure")
    page.fill("#recipe-text", TAGS)
    page.wait_for_selector("h1:has-text('tag')")
    page.tap("#views button:has-text('On the sheet')")
    piece = page.locator(".laid[data-row='2']")
    piece.scroll_into_view_if_needed()
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    before = places(page)
    swipe(context, page, piece, -60)
    page.wait_for_timeout(1000)
    assert places(page) == before
    piece.scroll_into_view_if_needed()
    piece.locator(".piece-card").tap()
    page.wait_for_selector(".laid.chosen[data-row='2']")
    sheet = page.locator(".sheet").bounding_box()
    swipe(context, page, piece, -60)
    wait_for(page, 2, (40, 95 + 60 / (sheet["width"] / 210), 0), within=3)
    context.close()


def swipe(context: Any, page: Any, piece: Any, by: float) -> None:
    """Draw a finger upwards over a piece."""
    box = piece.locator(".piece-card").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    session = context.new_cdp_session(page)
    session.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
    for step in range(1, 7):
        point = {"x": x, "y": y + by * step / 6}
        session.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": [point]})
    session.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


def test_the_sentence_about_sheets_changes_the_recipe(bench: Any) -> None:
    bench.fill("input[data-key=apart]", "1mm")
    bench.keyboard.press("Enter")
    bench.wait_for_selector("[data-blank='sheets.apart']:has-text('1 mm')")
    wait_for(bench, 0, (40, 25, 0))
    assert 'apart = "1mm"' in bench.input_value("#recipe-text")
    bench.fill("input[data-key=copies]", "2")
    bench.keyboard.press("Enter")
    bench.wait_for_selector(".laid[data-row='2']", state="detached")
    assert "copies = 2" in bench.input_value("#recipe-text")
    assert bench.is_checked("[data-takes=sheets]")
    bench.uncheck("[data-takes=sheets]")
    bench.wait_for_selector("text=Write these sheets too")
    assert "[sheets]" not in bench.input_value("#recipe-text")
    bench.check("[data-takes=hand_out]")
    bench.wait_for_selector("[data-takes=hand_out]:checked")


def test_laying_tells_how_far_it_is_and_is_stopped(page: Any) -> None:
    many = TAGS.partition("[sheets]")[0].replace("copies = 3", "copies = 60") + "[sheets]\ntries = 100000\n"
    page.fill("#recipe-text", many)
    page.wait_for_selector("h1:has-text('tag')")
    page.click("#views button:has-text('On the sheet')")
    page.wait_for_selector("#done:has-text('laying moss')")
    page.click("#stop")
    page.wait_for_selector("#shown:has-text('Stopped.')")
    # What was stopped is begun again when it is wanted, and leaves all else at work.
    page.fill("#recipe-text", TAGS)
    page.wait_for_selector(".laid >> nth=2")
