"""``frameforge desk``: the page on which a piece is seen while it is chosen."""

from __future__ import annotations

from pathlib import Path

from frameforge.cli.console import Ended, say
from frameforge.cli.ending import end_code, is_killed
from frameforge.cli.options import takes

__all__ = ["command"]


@takes("port", "no_open", "out", "motifs")
def command(port: str | None, no_open: bool, out: str | None, motifs: str | None) -> None:
    """Open a page in the browser to choose a piece and see it at once.

    It runs on this computer alone and needs no network. Ctrl-C ends it.
    """
    from frameforge.desk.answers import Folders
    from frameforge.desk.serve import port_of, serve
    from frameforge.job.motif_options import motifs_folder

    Path.cwd()  # raises where that folder has gone: every process of the desk starts in it
    folders = Folders(Path(out or "out"), motifs_folder(motifs))
    serve(folders, port_of(port), opens=not no_open, tell=say)
    if is_killed():
        raise Ended(end_code())
