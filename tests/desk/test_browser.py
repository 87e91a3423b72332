"""The page in a real browser (Debian's chromium, driven by playwright): a first-time maker, click by click."""

from __future__ import annotations

import itertools
import os
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from frameforge.cli.entry import main

from .browser import IN_BROWSER

pytestmark = IN_BROWSER


def _sentence(page) -> str:  # type: ignore[no-untyped-def]
    return " ".join(page.inner_text("#sentence p.first").split())


@pytest.fixture
def steps(page, tmp_path: Path) -> Iterator[Callable[[str], None]]:  # type: ignore[no-untyped-def]
    """Keeps a picture of every step, in the folder that FRAMEFORGE_PICTURES names, else in one of the test's own."""
    folder = Path(os.environ.get("FRAMEFORGE_PICTURES") or tmp_path / "steps")
    folder.mkdir(parents=True, exist_ok=True)
    numbers = itertools.count(1)

    def step(words: str) -> None:
        page.wait_for_selector("#bench:not([aria-busy])", state="attached")
        page.screenshot(path=folder / f"{next(numbers):02d}-{words}.png", full_page=True)

    yield step
    kept = sorted(folder.iterdir())
    print(f"{len(kept)} pictures in {folder}")  # noqa: T201
    assert all(picture.stat().st_size > 10_000 for picture in kept)


@pytest.mark.browser
def test_a_first_time_maker_goes_from_opening_to_taking_the_files(page, steps, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    steps("opened")
    assert _sentence(page) == "Put 16 of bean leaf round a circle of 76 mm facing out with a 50 mm hole in the middle."
    page.click("[data-blank=motif]")
    page.wait_for_selector(".motifs button:has-text('arch')")
    steps("motifs")
    page.click(".motifs button:has-text('arch')")
    page.wait_for_selector("#refused button")
    steps("too-many")
    page.click("#refused button >> nth=0")
    page.wait_for_selector("h1:has-text('arch-')")
    steps("an-offer-taken")
    page.click("[data-blank=size]")
    page.fill("#choices input", "4in")
    page.keyboard.press("Enter")
    page.wait_for_selector("[data-blank=size]:has-text('4 in')")
    page.wait_for_selector("figcaption:has-text('115.6 x 114.9 mm')")
    steps("a-size-in-inches")
    page.click(".counts button >> nth=0")
    page.wait_for_selector("#shown:not(.before) .counts button[aria-pressed=true]")
    steps("a-neighbouring-count")
    page.click("#views button:has-text('As cut')")
    page.wait_for_selector(".findings.bits")
    steps("as-cut")
    with page.expect_download() as saved:
        page.click("#save")
    saved.value.save_as(tmp_path / "recipe.toml")
    assert 'size = "4in"' in (tmp_path / "recipe.toml").read_text(encoding="utf-8")
    with page.expect_download() as taken:
        page.click("#take")
    page.wait_for_selector("#taken:has-text('on its way')")
    steps("taken")
    taken.value.save_as(tmp_path / "taken.zip")
    _same_as_the_command_writes(tmp_path)


def _same_as_the_command_writes(folder: Path) -> None:
    """Compare what was taken with what ``make`` writes of the recipe that was saved, byte by byte."""
    assert main(["make", str(folder / "recipe.toml"), "--out", str(folder / "made")]) == 0
    with zipfile.ZipFile(folder / "taken.zip") as held:
        taken = {name: held.read(name) for name in held.namelist()}
    assert {name.rpartition(".")[2] for name in taken} == {"svg", "dxf", "png", "md", "json"}
    assert taken == {path.name: path.read_bytes() for path in (folder / "made").iterdir()}


@pytest.mark.browser
@pytest.mark.parametrize(
    ("name", "data", "said"),
    [
        ("words.svg", b"not a drawing", "words.svg"),
        (
            "empty.svg",
            b'<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9"/>',
            "empty.svg",
        ),
    ],
)
def test_a_drawing_that_is_none_is_told_and_changes_nothing(page, name: str, data: bytes, said: str) -> None:  # type: ignore[no-untyped-def]
    before = page.input_value("#recipe-text")
    page.click("[data-blank=motif]")
    upload = {"name": name, "mimeType": "image/svg+xml", "buffer": data}
    page.set_input_files("#choices input[type=file]", upload)
    page.wait_for_selector(f"#refused:has-text('{said}')")
    assert page.input_value("#recipe-text") == before
    page.click(".motifs button:has-text('seed')")
    page.wait_for_selector("#refused", state="hidden")


def test_undo_and_redo_go_along_the_changes(page) -> None:  # type: ignore[no-untyped-def]
    page.click(".counts button >> nth=0")
    page.wait_for_selector("[data-blank=count]:has-text('15')")
    page.keyboard.press("Control+z")
    page.wait_for_selector("[data-blank=count]:has-text('16')")
    assert page.is_disabled("#undo")
    page.click("#redo")
    page.wait_for_selector("[data-blank=count]:has-text('15')")


def test_a_page_that_is_loaded_again_goes_on_with_all_that_was_changed(page) -> None:  # type: ignore[no-untyped-def]
    for count in (15, 14):
        page.click(".counts button >> nth=0")
        page.wait_for_selector(f"[data-blank=count]:has-text('{count}')")
    page.click("#undo")
    page.wait_for_selector("[data-blank=count]:has-text('15')")
    page.reload()
    page.wait_for_selector("[data-blank=count]:has-text('15')")
    page.click("#redo")
    page.wait_for_selector("[data-blank=count]:has-text('14')")
    page.click("#undo")
    page.wait_for_selector("[data-blank=count]:has-text('15')")
    page.click("#undo")
    page.wait_for_selector("[data-blank=count]:has-text('16')")
    page.goto(page.url + "manual/")
    page.go_back()
    page.wait_for_selector("[data-blank=count]:has-text('16')")
    assert page.is_enabled("#redo")
    # Another tab begins anew.
    other = page.context.new_page()
    other.goto(page.url)
    other.wait_for_selector("#bench figure")
    assert other.is_disabled("#undo")
    assert other.is_disabled("#redo")
    other.close()


def test_the_recipe_and_the_sentence_follow_each_other(page) -> None:  # type: ignore[no-untyped-def]
    text = page.input_value("#recipe-text")
    page.fill("#recipe-text", text.replace("count = 16", "count = 14"))
    page.wait_for_selector("[data-blank=count]:has-text('14')")
    page.fill("#recipe-text", text.replace('"76mm"', '"76 leagues"'))
    page.wait_for_selector("#refused:has-text('line 3')")
    assert "14" in _sentence(page)


@pytest.mark.browser
def test_a_finding_is_gone_to_from_its_line_and_back(page) -> None:  # type: ignore[no-untyped-def]
    page.click("[data-blank=motif]")
    page.click(".motifs button:has-text('beetle')")
    page.click(".findings button.row >> nth=1")
    assert page.get_attribute(".tag.chosen", "data-number") == "2"
    assert page.locator(".pointer").count() == 1
    page.click("text=The whole piece")
    page.focus(".tag[data-number='1']")
    page.keyboard.press("Enter")
    assert page.inner_text(".findings .row.chosen strong").startswith("1")
    page.click("text=Mend what can be mended")
    page.wait_for_selector(".said:has-text('mended ')")


def test_every_blank_opens_by_keyboard_and_closes_by_escape(page) -> None:  # type: ignore[no-untyped-def]
    keys = page.eval_on_selector_all("[data-blank]", "all => all.map(one => one.dataset.blank)")
    assert len(keys) >= 10
    for key in keys:
        page.focus(f"[data-blank={key}]")
        page.keyboard.press("Enter")
        assert page.get_attribute(f"[data-blank={key}]", "aria-expanded") == "true"
        page.wait_for_selector("#choices button")
        page.keyboard.press("Escape")
        assert page.get_attribute("#choices", "hidden") is not None
        assert page.evaluate("document.activeElement.dataset.blank") == key


def test_a_drawing_is_dropped_in_and_runs_nothing(page, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    (tmp_path / "sprig.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="12mm" height="10mm" viewBox="0 0 12 10" onload="window.ran=1">'
        "<script>window.ran=1</script><path d='M 0 10 L 6 0 L 12 10 Z'/></svg>",
        encoding="utf-8",
    )
    page.click("[data-blank=motif]")
    page.set_input_files("#choices input[type=file]", tmp_path / "sprig.svg")
    page.wait_for_selector("[data-blank=motif]:has-text('sprig')")
    page.wait_for_selector(".motifs button[aria-pressed=true]:has-text('sprig')")
    assert page.evaluate("window.ran") is None


@pytest.mark.parametrize("width", [320, 390])
def test_a_phone_scrolls_one_way_only(page, width: int) -> None:  # type: ignore[no-untyped-def]
    page.set_viewport_size({"width": width, "height": 800})
    page.click("[data-blank=motif]")
    page.wait_for_selector(".motifs button")
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_a_position_is_left_out_by_a_click_and_put_back(page) -> None:  # type: ignore[no-untyped-def]
    page.click("text=Spokes and positions")
    page.click(".position[aria-label^='position 5,']")
    page.wait_for_selector("[data-blank=skip]:has-text('5')")
    assert page.locator(".position").count() == 15
    page.focus(".position[aria-label^='position 7,']")
    page.keyboard.press("Enter")
    page.wait_for_selector("[data-blank=skip]:has-text('5,7')")
    page.click("text=Put 5 back")
    page.click("text=Put 7 back")
    page.wait_for_selector("[data-blank=skip]:has-text('none')")
    assert page.locator(".position").count() == 16


def test_changes_made_in_haste_all_hold(page) -> None:  # type: ignore[no-untyped-def]
    """Each is asked before the one before it is answered; none is lost, and none is worked at twice."""
    page.click("[data-blank=count]")
    for _ in range(4):
        page.click("text=One less", no_wait_after=True)
    page.wait_for_selector("h1:has-text('bean-leaf-12-on-76mm')")
    assert "count = 12" in page.input_value("#recipe-text")


def _tab_to(page, selector: str) -> None:  # type: ignore[no-untyped-def]
    """Go on by Tab until something has the focus, which is then seen."""
    for _ in range(80):
        page.keyboard.press("Tab")
        if page.evaluate("wanted => document.activeElement.matches(wanted)", selector):
            assert page.evaluate("getComputedStyle(document.activeElement).outlineStyle") != "none"
            return
    raise AssertionError(selector)


def test_keys_alone_lead_from_opening_to_taking_the_files(page, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    _tab_to(page, "[data-blank=count]")
    page.keyboard.press("Enter")
    page.wait_for_selector("#choices button:has-text('One more')")
    _tab_to(page, "#choices .picks button:nth-child(2)")
    page.keyboard.press("Enter")
    page.wait_for_selector("[data-blank=count]:has-text('17')")
    page.keyboard.press("Escape")
    assert page.evaluate("document.activeElement.dataset.blank") == "count"
    _tab_to(page, "#views button:nth-child(2)")
    page.keyboard.press("Space")
    page.wait_for_selector(".findings.bits")
    _tab_to(page, "#take")
    with page.expect_download() as taken:
        page.keyboard.press("Enter")
    taken.value.save_as(tmp_path / "taken.zip")
    assert zipfile.is_zipfile(tmp_path / "taken.zip")


@pytest.mark.parametrize("words", ["The piece", "As cut", "Sizes"])
def test_twice_as_large_nothing_is_lost_at_the_side(page, words: str) -> None:  # type: ignore[no-untyped-def]
    """A page zoomed to 200 % has half the room."""
    page.set_viewport_size({"width": 640, "height": 500})
    page.click(f"#views button:text-is('{words}')")
    page.wait_for_selector("#bench:not([aria-busy])", state="attached")
    assert page.evaluate("document.documentElement.scrollWidth") <= 640


def test_printed_it_is_the_sentence_and_the_piece_on_white(page) -> None:  # type: ignore[no-untyped-def]
    page.emulate_media(media="print", color_scheme="dark")
    assert page.is_visible("#sentence")
    assert page.is_visible("#bench figure > svg")
    for unwanted in ("#recipe", "#taking", "#views", "#more", ".looking"):
        assert page.is_hidden(unwanted), unwanted
    assert page.evaluate("getComputedStyle(document.documentElement).backgroundColor") == "rgb(255, 255, 255)"
    assert page.evaluate("getComputedStyle(document.querySelector('h1')).color") == "rgb(30, 42, 44)"
