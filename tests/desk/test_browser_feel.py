"""How changes feel in a real browser: the picture first, nothing queued, nothing that jumps, long work that stops."""

from __future__ import annotations

from typing import Any

import pytest

from .browser import IN_BROWSER

pytestmark = IN_BROWSER

BEETLES = '[[piece]]\nsize = "100mm"\nopening = "60mm"\n\n[[piece.row]]\nmotif = "beetle"\ncount = 5\n'
PIECE = '[[piece]]\nname = "p%d"\nsize = "200mm"\n[[piece.row]]\nmotif = "bean-leaf"\ncount = 40\n'
JUDGED = "#bench figure:not(.unjudged)"


def test_a_held_key_queues_nothing(page: Any) -> None:
    """Fourteen changes at once: one question at a time, most of them skipped, the last one shown with its findings."""
    page.wait_for_selector(JUDGED)
    under_way: list[int] = [0]
    asked: list[int] = []

    def began(request: Any) -> None:
        if request.url.endswith("/see"):
            under_way[0] += 1
            asked.append(under_way[0])

    def ended(request: Any) -> None:
        under_way[0] -= request.url.endswith("/see")

    page.on("request", began)
    page.on("requestfinished", ended)
    page.click("[data-blank=count]")
    less = page.locator("#choices button:has-text('One less')")
    less.evaluate("button => { for (let k = 0; k < 14; k += 1) button.click(); }")
    page.wait_for_selector("[data-blank=count]:text-is('2')")
    page.wait_for_selector(f"{JUDGED} .counts button[aria-pressed=true]:has-text('2 bean leaves')")
    page.wait_for_timeout(200)
    assert 2 <= len(asked) < 8
    assert max(asked) == 1
    assert page.input_value("#recipe-text").count("count = 2\n") == 1


def test_nothing_moves_when_findings_come(page: Any) -> None:
    page.wait_for_selector(JUDGED)
    page.fill("#recipe-text", BEETLES)
    page.wait_for_selector(f"{JUDGED} .findings li")
    page.evaluate(
        """() => {
          const place = (name) => JSON.stringify(document.querySelector(name)?.getBoundingClientRect());
          window.seen = [];
          new MutationObserver(() => {
            const figure = document.querySelector("#shown figure");
            const places = ["figure > svg", "figure .caption", "figure .counts", "figure .findings li"].map(place);
            window.seen.push([figure.className, figure.querySelector("svg path").getAttribute("d"), places]);
          }).observe(document.getElementById("shown"), { childList: true });
        }"""
    )
    page.click("figure > .counts button >> nth=0")
    page.wait_for_selector(f"{JUDGED} .counts button[aria-pressed=true]:has-text('4 beetles')")
    (first, *_, last) = page.evaluate("window.seen")
    assert first[0] == "unjudged"
    assert first[1:] == last[1:]
    assert page.locator(".tag").count() >= 1


@pytest.mark.parametrize(
    ("late", "by", "across"),
    [("see", "hand", 101), ("findings", "hand", 102), ("see", "key", 103), ("findings", "key", 104)],
)
def test_what_is_pressed_while_an_answer_comes_is_still_done(page: Any, late: str, by: str, across: int) -> None:
    """Nothing is drawn anew under a finger: a click goes to what is there both when it is pressed and let go."""
    page.wait_for_selector(JUDGED)
    waiting: list[Any] = []
    page.route(f"**/{late}", lambda route: route.continue_() if waiting else waiting.append(route))
    page.fill("#recipe-text", BEETLES.replace("100", str(across)))
    name = f"h1:has-text('on-{across}mm')"
    while not waiting:
        page.wait_for_timeout(20)
    if late == "findings":
        page.wait_for_selector(name)
    (press, let_go) = (
        (page.mouse.down, page.mouse.up)
        if by == "hand"
        else (lambda: page.keyboard.down("Space"), lambda: page.keyboard.up("Space"))
    )
    button = "text=Spokes and positions"
    page.hover(button)
    page.focus(button)
    press()
    with page.expect_response(f"**/{late}") as answered:
        waiting[0].continue_()
    answered.value.finished()
    page.wait_for_timeout(300)
    assert page.locator(".position").count() == 0
    let_go()
    page.wait_for_selector(f"{JUDGED} .position >> nth=4")
    page.wait_for_selector(name)


def test_what_has_the_focus_keeps_it(page: Any) -> None:
    page.wait_for_selector(JUDGED)
    page.focus("figure > .counts button >> nth=2")
    page.keyboard.press("Enter")
    page.wait_for_selector(f"{JUDGED} .counts button[aria-pressed=true]:has-text('17 bean leaves')")
    assert page.evaluate("document.activeElement.textContent").startswith("17 bean leaves")


@pytest.mark.browser
def test_long_work_is_told_and_stopped(page: Any) -> None:
    page.wait_for_selector(JUDGED)
    page.fill("#recipe-text", "".join(PIECE % number for number in range(24)))
    page.wait_for_selector("#shown figure >> nth=23")
    page.click("#put")
    page.wait_for_selector("#done:has-text('of 24')")
    assert page.inner_text("#working") == "Working on it"
    page.click("#stop")
    page.wait_for_selector("#taken:has-text('Stopped. Nothing was written.')")
    page.wait_for_selector("#stop", state="hidden")
