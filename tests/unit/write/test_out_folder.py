"""The folder of results: whole pieces or nothing, never over a file that is not ours."""

from __future__ import annotations

import errno
import multiprocessing
import os
import pickle
import signal
from pathlib import Path

import pytest
from fixtures.cut_pages import page_of, ring

from frameforge.errors import FileError, FrameforgeError
from frameforge.write.cut_files import cut_files
from frameforge.write.marker import digest
from frameforge.write.out_folder import OutFile, OutFolder, PieceFiles
from frameforge.write.png import to_png
from frameforge.write.report import Report, report_text

VERSIONS = {"frameforge": "0.1.0"}
PICTURE = to_png('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9" viewBox="0 0 9 9"/>', px_per_mm=4)


def _piece(name: str = "badge", radius_mm: float = 30) -> PieceFiles:
    """Return a piece of three files."""
    return PieceFiles(name, (*cut_files(page_of(ring(radius_mm, 20), name), name), OutFile(f"{name}.png", PICTURE)))


def _content(folder: Path) -> dict[str, bytes]:
    """Return every file of a folder, hidden ones too."""
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


def _run(folder: Path, *pieces: PieceFiles, force: bool = False) -> None:
    """Make one whole run."""
    out = OutFolder.open(folder, force=force)
    out.finish([out.put(piece) for piece in pieces], VERSIONS)


def test_a_piece_is_its_files_and_run_json_lists_them(tmp_path: Path) -> None:
    folder = tmp_path / "deep" / "out"
    _run(folder, _piece())
    content = _content(folder)
    assert list(content) == ["badge.dxf", "badge.png", "badge.svg", "run.json"]
    assert OutFolder.open(folder).earlier[0].files == tuple(
        (name, digest(content[name])) for name in ("badge.svg", "badge.dxf", "badge.png")
    )


def test_files_may_be_read_by_others(tmp_path: Path) -> None:
    """As any program's files: by the umask, not by that of temporary files."""
    old = os.umask(0o022)
    try:
        _run(tmp_path, _piece())
    finally:
        os.umask(old)
    assert (tmp_path / "badge.svg").stat().st_mode & 0o777 == 0o644


def test_the_same_run_twice_gives_the_same_bytes(tmp_path: Path) -> None:
    _run(tmp_path / "a", _piece(), _piece("seal"))
    first = _content(tmp_path / "a")
    _run(tmp_path / "a", _piece(), _piece("seal"))
    _run(tmp_path / "b", _piece(), _piece("seal"))
    assert _content(tmp_path / "a") == first == _content(tmp_path / "b")


def test_a_later_run_replaces_our_own_and_keeps_what_it_does_not_make(tmp_path: Path) -> None:
    _run(tmp_path, _piece(), _piece("seal"))
    before = _content(tmp_path)
    _run(tmp_path, _piece(radius_mm=31))
    after = _content(tmp_path)
    assert after["badge.svg"] != before["badge.svg"]
    assert after["seal.svg"] == before["seal.svg"]
    assert [piece.name for piece in OutFolder.open(tmp_path).earlier] == ["seal", "badge"]


def test_what_has_gone_is_listed_no_longer(tmp_path: Path) -> None:
    _run(tmp_path, _piece(), _piece("seal"))
    for name in ("seal.svg", "seal.dxf", "seal.png"):
        (tmp_path / name).unlink()
    (tmp_path / "badge.png").unlink()
    _run(tmp_path, _piece("collar"))
    earlier = OutFolder.open(tmp_path).earlier
    assert [piece.name for piece in earlier] == ["badge", "collar"]
    assert [name for name, _ in earlier[0].files] == ["badge.svg", "badge.dxf"]


@pytest.mark.parametrize("name", ["badge.svg", "badge.dxf", "badge.png"])
def test_our_marker_is_proof_enough_without_run_json(tmp_path: Path, name: str) -> None:
    _run(tmp_path, _piece())
    (tmp_path / "run.json").unlink()
    old = (tmp_path / name).read_bytes()
    _run(tmp_path, _piece(radius_mm=31))
    assert (tmp_path / name).read_bytes() != old or name == "badge.png"


def test_a_file_without_a_marker_is_ours_by_run_json_alone(tmp_path: Path) -> None:
    guide = PieceFiles("guide", (OutFile("guide.pdf", b"%PDF-1.7 spokes"),))
    _run(tmp_path, guide)
    _run(tmp_path, PieceFiles("guide", (OutFile("guide.pdf", b"%PDF-1.7 more spokes"),)))
    (tmp_path / "run.json").unlink()
    with pytest.raises(FileError, match="did not write"):
        _run(tmp_path, guide)


def test_a_foreign_file_is_left_alone_word_for_word(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("out").mkdir()
    Path("out/badge.svg").write_text("<svg/>")
    with pytest.raises(FileError) as raised:
        _run(Path("out"), _piece())
    assert str(raised.value) == (
        "out/badge.svg: frameforge did not write this file and leaves it alone. "
        "Choose another folder with --out, or replace it with --force."
    )
    assert raised.value.exit_code == 4
    assert _content(Path("out")) == {"badge.svg": b"<svg/>"}
    _run(Path("out"), _piece(), force=True)
    assert Path("out/badge.svg").read_bytes() == _piece().files[0].data


@pytest.mark.parametrize("name", ["badge.svg", "badge.dxf", "badge.png"])
def test_a_file_of_ours_that_was_edited_is_not_ours(tmp_path: Path, name: str) -> None:
    _run(tmp_path, _piece())
    edited = (tmp_path / name).read_bytes() + b"\n"
    (tmp_path / name).write_bytes(edited)
    before = _content(tmp_path)
    with pytest.raises(FileError, match="did not write"):
        _run(tmp_path, _piece(radius_mm=31))
    assert _content(tmp_path) == before


def test_a_foreign_run_json_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "run.json").write_text('{"runs": 3}')
    with pytest.raises(FileError, match=r"run\.json: frameforge did not write"):
        OutFolder.open(tmp_path)
    _run(tmp_path, _piece(), force=True)
    assert len(OutFolder.open(tmp_path).earlier) == 1


def test_all_foreign_files_are_named_at_once_before_anything_is_made(tmp_path: Path) -> None:
    for name in ("a.svg", "c.svg"):
        (tmp_path / name).write_text("mine")
    (tmp_path / "d.svg").mkdir()
    with pytest.raises(FileError) as raised:
        OutFolder.open(tmp_path).claim(["a.svg", "b.svg", "c.svg", "d.svg"])
    lines = str(raised.value).split("\n")
    assert [line.partition(":")[0].rpartition("/")[2] for line in lines] == ["a.svg", "c.svg", "d.svg"]
    with pytest.raises(FrameforgeError, match="a folder has this name"):
        OutFolder.open(tmp_path, force=True).claim(["a.svg", "d.svg"])


def test_a_link_that_leads_nowhere_is_not_ours(tmp_path: Path) -> None:
    (tmp_path / "badge.svg").symlink_to(tmp_path / "nowhere")
    with pytest.raises(FileError, match="did not write"):
        _run(tmp_path, _piece())


def test_a_report_proves_itself(tmp_path: Path) -> None:
    text = report_text(Report(()))
    piece = PieceFiles("report", (OutFile("report.md", text.encode()),))
    _run(tmp_path, piece)
    (tmp_path / "run.json").unlink()
    _run(tmp_path, piece)


@pytest.mark.parametrize("refused", [0, 1, 2])
def test_when_a_rename_is_refused_the_folder_is_as_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, refused: int
) -> None:
    """Twice: with nothing there yet, and over an older piece."""
    for _ in range(2):
        before = _content(tmp_path)
        calls: list[Path] = []

        def replace(source: Path, target: Path, calls: list[Path] = calls) -> None:
            calls.append(target)
            if len(calls) == refused + 1:
                raise OSError(errno.ENOSPC, "full")
            os.rename(source, target)

        with monkeypatch.context() as patch:
            patch.setattr(os, "replace", replace)
            with pytest.raises(FileError, match="the disk is full"):
                OutFolder.open(tmp_path).put(_piece(radius_mm=33))
        assert _content(tmp_path) == before
        _run(tmp_path, _piece())


def test_when_writing_is_refused_nothing_is_left_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    _run(tmp_path, _piece())
    before = _content(tmp_path)

    def write_bytes(path: Path, data: bytes) -> int:
        with path.open("wb") as stream:
            stream.write(data[: len(data) // 2])
        raise OSError(errno.ENOSPC, "full")

    with monkeypatch.context() as patch:
        patch.setattr(Path, "write_bytes", write_bytes)
        with pytest.raises(FileError, match="the disk is full"):
            OutFolder.open(tmp_path).put(_piece(radius_mm=33))
    assert _content(tmp_path) == before


def test_an_interrupt_leaves_nothing_half_done(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    _run(tmp_path, _piece())
    before = _content(tmp_path)

    def replace(source: Path, target: Path) -> None:
        if target.name == "badge.dxf" and "before" not in source.name:
            raise KeyboardInterrupt
        os.rename(source, target)

    with monkeypatch.context() as patch:
        patch.setattr(os, "replace", replace)
        with pytest.raises(KeyboardInterrupt):
            OutFolder.open(tmp_path).put(_piece(radius_mm=33))
    assert _content(tmp_path) == before


def test_where_second_names_are_unknown_copies_serve(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def link(source: Path, target: Path) -> None:
        raise OSError(errno.EPERM, "no links here")

    monkeypatch.setattr(os, "link", link)
    _run(tmp_path, _piece())
    _run(tmp_path, _piece(radius_mm=33))
    assert list(_content(tmp_path)) == ["badge.dxf", "badge.png", "badge.svg", "run.json"]


def _killed_at(folder: Path, rename: int) -> None:
    """Make a run in which the process is killed at a rename."""
    calls: list[Path] = []

    def replace(source: Path, target: Path) -> None:
        calls.append(target)
        if len(calls) == rename + 1:
            os.kill(os.getpid(), signal.SIGKILL)
        os.rename(source, target)

    os.replace = replace  # type: ignore[assignment]  # of paths alone
    _run(folder, _piece(), _piece("seal"))


@pytest.mark.parametrize("call", ["link", "replace", "unlink"])
@pytest.mark.parametrize("nth", [1, 2, 3])
def test_a_signal_while_files_are_put_in_place_is_heard_when_they_are(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: str, nth: int
) -> None:
    _run(tmp_path, _piece(radius_mm=31))
    plain, calls = getattr(os, call), []

    def told(*words: object, **more: object) -> object:
        calls.append(words)
        if len(calls) == nth:
            signal.raise_signal(signal.SIGINT)
        done = plain(*words, **more)
        if len(calls) == nth:
            signal.raise_signal(signal.SIGINT)
        return done

    out, piece = OutFolder.open(tmp_path), _piece()
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    try:
        with monkeypatch.context() as patch:
            patch.setattr(os, call, told)
            with pytest.raises(KeyboardInterrupt):
                out.put(piece)
        assert signal.getsignal(signal.SIGINT) is signal.default_int_handler
    finally:
        signal.signal(signal.SIGINT, before)
    content = _content(tmp_path)
    assert sorted(content) == ["badge.dxf", "badge.png", "badge.svg", "run.json"]
    assert all(content[file.name] == file.data for file in piece.files)


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system knows no SIGKILL")
@pytest.mark.parametrize("rename", [0, 1, 4, 6])
@pytest.mark.parametrize("is_first", [True, False])
@pytest.mark.filterwarnings("ignore:This process .* is multi-threaded:DeprecationWarning")  # the child ends at once
def test_after_a_kill_the_next_run_makes_all_whole(tmp_path: Path, rename: int, is_first: bool) -> None:
    """In the first piece, in the second, before run.json; into an empty folder and over an older run."""
    whole = tmp_path / "whole"
    folder = tmp_path / "out"
    _run(whole, _piece(), _piece("seal"))
    if not is_first:
        _run(folder, _piece(radius_mm=31), _piece("seal", radius_mm=31))
    killed = multiprocessing.get_context("fork").Process(target=_killed_at, args=(folder, rename))
    killed.start()
    killed.join()
    assert killed.exitcode == -signal.SIGKILL
    wanted = _content(whole)
    older = {} if is_first else _content_of_older()
    for name, data in _content(folder).items():
        if not name.startswith(".") and name != "run.json":
            assert data in (wanted[name], older.get(name)), f"{name} is half written"
    _run(folder, _piece(), _piece("seal"))
    assert _content(folder) == wanted


def _content_of_older() -> dict[str, bytes]:
    """Return the files of the older run."""
    pieces = (_piece(radius_mm=31), _piece("seal", radius_mm=31))
    return {file.name: file.data for piece in pieces for file in piece.files}


def test_a_file_in_place_of_the_folder_is_said(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a letter")
    for path in (tmp_path / "out", tmp_path / "out" / "deeper"):
        with pytest.raises(FileError, match="a file stands where the folder should be") as raised:
            OutFolder.open(path)
        assert "\n" not in str(raised.value)


def test_a_refused_write_is_said_for_whoever_runs_this(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def write_bytes(path: Path, data: bytes) -> int:
        raise PermissionError(errno.EACCES, "no")

    monkeypatch.setattr(Path, "write_bytes", write_bytes)
    with pytest.raises(FileError, match="you may not write here"):
        OutFolder.open(tmp_path).put(_piece())


@pytest.mark.parametrize("name", ["", "..", "a/b.svg", "a\\b.svg", ".frameforge-1"])
def test_names_that_lead_elsewhere_are_refused(name: str) -> None:
    with pytest.raises(ValueError, match="plain name"):
        OutFile(name, b"")


def test_two_files_of_one_name_are_refused() -> None:
    with pytest.raises(ValueError, match="one name"):
        PieceFiles("badge", (OutFile("a.svg", b"1"), OutFile("a.svg", b"2")))


def test_an_open_folder_can_be_handed_to_a_worker(tmp_path: Path) -> None:
    _run(tmp_path, _piece())
    folder = OutFolder.open(tmp_path)
    assert pickle.loads(pickle.dumps(folder)) == folder


def test_two_runs_at_once_lose_no_file_of_each_other(tmp_path: Path) -> None:
    """Both opened the folder before either had finished: run.json lists what both made, in whatever order they end."""
    for turned in (False, True):
        folder = tmp_path / str(turned)
        one, two = OutFolder.open(folder), OutFolder.open(folder)
        made = [(one, [one.put(_piece())]), (two, [two.put(_piece("seal"))])]
        for out, pieces in reversed(made) if turned else made:
            out.finish(pieces, VERSIONS)
        _run(folder, _piece("collar"))
        assert {piece.name for piece in OutFolder.open(folder).earlier} == {"badge", "seal", "collar"}


def test_of_two_pieces_of_one_name_the_later_stays_and_is_listed(tmp_path: Path) -> None:
    for turned in (False, True):
        folder = tmp_path / str(turned)
        one, two = OutFolder.open(folder), OutFolder.open(folder)
        first, later = _piece(), _piece(radius_mm=31)
        made = [(one, [one.put(first)]), (two, [two.put(later)])]
        for out, pieces in reversed(made) if turned else made:
            out.finish(pieces, VERSIONS)
        (listed,) = OutFolder.open(folder).earlier
        assert _content(folder)["badge.svg"] == later.files[0].data
        assert listed.files == tuple((file.name, digest(file.data)) for file in later.files)


@pytest.mark.skipif(os.name == "nt", reason="a lock of POSIX")
def test_a_run_that_opens_the_folder_waits_for_one_that_puts_a_piece(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is half done is that of a living run: nobody else may clear it away."""
    monkeypatch.setattr("frameforge.write.turn._WAIT_S", 0.0)
    seen = []

    def replace(source: Path, target: Path) -> None:
        with pytest.raises(FileError, match=r"another run of frameforge is at work here\. End it, or choose"):
            OutFolder.open(tmp_path)
        seen.append(Path(source).exists())
        os.rename(source, target)

    with monkeypatch.context() as patch:
        patch.setattr(os, "replace", replace)
        OutFolder.open(tmp_path).put(_piece())
    assert seen == [True, True, True]
    assert len(_content(tmp_path)) == 3


def test_where_the_system_has_no_such_lock_runs_go_on(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("frameforge.write.turn._LOCKS", None)
    _run(tmp_path, _piece())
    assert len(_content(tmp_path)) == 4


def test_a_file_that_its_owner_keeps_from_being_written_is_left_alone(tmp_path: Path) -> None:
    _run(tmp_path, _piece())
    (tmp_path / "badge.svg").chmod(0o444)
    before = _content(tmp_path)
    with pytest.raises(FileError, match=r"badge\.svg: this file may only be read\. .* or replace it with --force"):
        _run(tmp_path, _piece(radius_mm=31))
    assert _content(tmp_path) == before
    _run(tmp_path, _piece(radius_mm=31), force=True)
    assert _content(tmp_path)["badge.svg"] != before["badge.svg"]
