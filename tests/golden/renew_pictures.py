"""Make the pictures of the manual's chapters and of the README's gallery anew, by hand, after a change that is meant:

    .venv/bin/python tests/golden/renew_pictures.py              # all of them
    .venv/bin/python tests/golden/renew_pictures.py ovals rings  # those of some chapters
    .venv/bin/python tests/golden/renew_pictures.py gallery      # those of the gallery

Then look at each before committing it. What a chapter quotes and the program no longer says is printed.
"""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from fixtures.gallery import GALLERY, made_gallery
from fixtures.manual_examples import CHAPTERS, MANUAL, pictures, shown, typed_through


def renew_chapter(name: str, folder: Path) -> None:
    """Type a chapter through, keep its pictures, and print what is no longer as it says."""
    for one in typed_through(name, folder):
        if not one.is_as_told or one.missing():
            sys.stdout.write(f"{name}: {one.line}\n  code {one.code}, lost: {one.missing()}\n  said: {one.said}\n")
    for picture in pictures(name):
        for made in sorted(folder.rglob(picture))[:1]:
            shown(made).save(MANUAL / "pictures" / picture, optimize=True)


if __name__ == "__main__":
    wanted = sys.argv[1:] or [*CHAPTERS, "gallery"]
    for chapter in wanted:
        with tempfile.TemporaryDirectory() as place:
            os.environ["XDG_DATA_HOME"] = f"{place}/data"
            if chapter != "gallery":
                renew_chapter(chapter, Path(place))
                continue
            for made in made_gallery(Path(place)):
                shown(made).save(GALLERY / made.name, optimize=True)
    sys.exit(0)
