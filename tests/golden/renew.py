"""Make the golden files anew, by hand, after a change that is meant to change them:

    .venv/bin/python tests/golden/renew.py

Then look at each picture and each difference (``git diff --stat``) before committing them.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from frameforge.cli.entry import main

HERE = Path(__file__).parent
CASES = tuple(sorted(path.parent.name for path in HERE.glob("*/recipe.toml")))
KINDS = ("svg", "dxf")
MANUAL = HERE.parent.parent / "frameforge" / "manual"


def made(case: str, out: Path) -> dict[str, str]:
    """Return the texts that the recipe of a case gives now, by kind."""
    code = main(["make", str(HERE / case / "recipe.toml"), "--formats", ",".join(KINDS), "--out", str(out)])
    if code != 0:
        raise AssertionError(f"{case} was refused with exit code {code}")
    return {kind: (out / f"{case}.{kind}").read_bytes().decode("utf-8") for kind in KINDS}


def expected(case: str, kind: str) -> Path:
    """Return where the golden file of a case is."""
    return HERE / case / f"expected.{kind}"


def renew_manual() -> None:
    """Draw the manual's pictures of findings anew, and write its pages that are made from the code."""
    from fixtures.finding_examples import EXAMPLES, example
    from fixtures.manual_pages import PAGES

    from frameforge.picture.piece import piece_picture

    for code in EXAMPLES:
        (MANUAL / "pictures" / f"{code}.svg").write_text(piece_picture(example(code)), encoding="utf-8")
    for name, written in PAGES.items():
        (MANUAL / name).write_text(written(), encoding="utf-8")


if __name__ == "__main__":
    for case in CASES:
        with tempfile.TemporaryDirectory() as folder:
            for kind, text in made(case, Path(folder)).items():
                expected(case, kind).write_bytes(text.encode("utf-8"))
    sys.path.insert(0, str(HERE.parent))
    from fixtures.golden_findings import EXPECTED, found_now

    renew_manual()
    EXPECTED.write_text("".join(f"{line}\n" for line in found_now()), encoding="utf-8")
    sys.exit(0)
