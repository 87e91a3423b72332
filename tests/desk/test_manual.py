"""The manual on the desk: every page as HTML without anything inline, every link answered, nothing else served."""

from __future__ import annotations

import html
import re
from html.parser import HTMLParser

import pytest
from fixtures.manual_examples import MANUAL

from frameforge.desk.manual import manual_file
from frameforge.finding import CODES
from frameforge.write.png import CSS_PX_PER_MM, to_png

from .conftest import Client

PAGES = tuple(sorted(path.stem for path in MANUAL.glob("*.md")))
ELEMENTS = {
    "html", "head", "meta", "title", "link", "body", "main", "nav", "article", "a", "p", "h1", "h2", "h3", "ul", "ol",
    "li", "pre", "code", "img", "strong", "em", "table", "thead", "tbody", "tr", "th", "td",
}  # fmt: skip
ATTRIBUTES = {"lang", "charset", "name", "content", "rel", "href", "src", "alt", "class", "aria-label"}


class _Seen(HTMLParser):
    """Notes the elements of a page, their attributes, where they lead, and the text."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.elements: set[str] = set()
        self.attributes: set[str] = set()
        self.targets: list[str] = []
        self.text = ""
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.add(tag)
        self.attributes |= {name for name, _ in attrs}
        self.targets += [value or "" for name, value in attrs if name in ("href", "src")]

    def handle_data(self, data: str) -> None:
        self.text += data


def _page(name: str) -> str:
    found = manual_file(name)
    assert found is not None
    return found.data.decode("utf-8")


@pytest.mark.parametrize("name", PAGES)
def test_a_page_holds_plain_elements_and_leads_to_what_is_there(name: str) -> None:
    seen = _Seen(_page(name))
    assert seen.elements <= ELEMENTS
    assert seen.attributes <= ATTRIBUTES
    for target in seen.targets:
        assert target.startswith("/"), target
        if target.startswith("/manual/pictures/"):
            source = MANUAL / target.removeprefix("/manual/")
            assert source.is_file() or source.with_suffix(".svg").is_file(), target
        elif target.startswith("/manual/") and target != "/manual/":
            assert target.removeprefix("/manual/") in PAGES, target
    words = re.sub(r"[`*#|>\s\[\]-]+", " ", html.unescape(seen.text)).split()
    assert {"The", "manual"} <= set(words)


def test_a_heading_a_list_a_line_to_type_a_picture_and_a_table_come_out_as_such() -> None:
    first = _page("first-piece")
    assert "<h1>Your first piece in five minutes</h1>" in first
    assert '<pre><code class="language-shell">frameforge make --motif arch --size 100mm --opening 60mm\n' in first
    assert '<img src="/manual/pictures/arch-17-on-100mm.png" alt="17 arches round a circle of 100 mm" />' in first
    assert '<a href="/manual/size">choosing a size</a>' in first
    assert "<title>Your first piece in five minutes - frameforge manual</title>" in first
    assert '<td><a href="/manual/thin-web">thin-web</a></td>' in _page("findings")


def test_the_routes_answer_pages_and_pictures(client: Client) -> None:
    listed = client.get("/manual/")
    assert listed.status_code == 200
    assert "Your first piece in five minutes" in listed.text
    assert "default-src 'none'" in listed.headers["content-security-policy"]
    for code in CODES[:3]:
        assert f"<h1>{code}</h1>" in client.get(f"/manual/{code}").text
    drawn = client.get("/manual/pictures/thin-web.png")
    assert drawn.headers["content-type"] == "image/png"
    svg = (MANUAL / "pictures" / "thin-web.svg").read_text(encoding="utf-8")
    assert drawn.content == to_png(svg, px_per_mm=CSS_PX_PER_MM)
    kept = (MANUAL / "pictures" / "sheet-plan.png").read_bytes()
    assert client.get("/manual/pictures/sheet-plan.png").content == kept


@pytest.mark.parametrize(
    "name",
    ["no-such", "../errors.py", "%2e%2e/errors.py", "first-piece.md", "pictures/", "pictures/../README.md", "x" * 5000],
)
def test_nothing_else_is_served(client: Client, name: str) -> None:
    assert client.get(f"/manual/{name}").status_code == 404


def test_text_is_never_read_as_markup(monkeypatch: pytest.MonkeyPatch) -> None:
    """A page that holds markup shows it as text, and leads to no script."""
    from importlib import resources

    from frameforge.desk import manual

    class Planted:
        name = "planted.md"

        def joinpath(self, *parts: str) -> Planted:
            return self if parts[0] == "manual" else real.joinpath(*parts)  # type: ignore[return-value]

        def read_text(self, encoding: str) -> str:
            return "# <script>x</script>\n\n<img src=x onerror=y>\n\n[a](javascript:x) `<b>`\n"

        def iterdir(self) -> list[Planted]:
            return [self]

    real = resources.files("frameforge")
    monkeypatch.setattr(resources, "files", lambda name: Planted())
    manual._pages.cache_clear()
    manual._shown.cache_clear()
    try:
        seen = _Seen(_page("planted"))
    finally:
        monkeypatch.undo()
        manual._pages.cache_clear()
        manual._shown.cache_clear()
    assert "script" not in seen.elements
    assert not seen.elements & {"img", "b"}
    assert not any(target.startswith("javascript") for target in seen.targets)
    assert "onerror" not in seen.attributes


def test_what_the_chapter_on_the_desk_names_stands_on_the_page() -> None:
    """The words in bold are those of buttons and views."""
    folder = MANUAL.parent / "desk" / "page"
    page = "".join(path.read_text(encoding="utf-8") for path in folder.iterdir() if path.suffix in (".js", ".html"))
    named = [
        " ".join(words.split())
        for words in re.findall(r"\*\*(.+?)\*\*", (MANUAL / "desk.md").read_text("utf-8"), re.DOTALL)
    ]
    assert len(named) >= 12
    assert [words for words in named if f'"{words}"' not in page and f">{words}" not in page] == []
