"""`extractor demo`: the main job on a demo recording."""

from __future__ import annotations

import argparse
import tomllib
from pathlib import Path

from extractor.batch.inputs import NoteFile
from extractor.errors import InputError

HERE = Path(__file__).resolve().parent.parent


def run(args: argparse.Namespace) -> int:
    """Recognize and read a demo recording and show the record.

    The exit code is 0 also where something must be settled: some recordings hold a planted mistake.
    """
    folder = demo_folder()
    titles = {name: str(body.get("title", "")) for name, body in _listed(folder).items()}
    if args.list:
        for name, title in titles.items():
            print(f"{name:<24} {title}")
        return 0
    name = args.name or next(iter(titles))
    if name not in titles:
        raise InputError(f"no demo recording is called '{name}'; there are {', '.join(titles)}")
    if not args.json:
        print(f"{name}: {titles[name]}\n")
    from extractor.cli.reader import Reader
    from extractor.cli.viewing import print_record

    reader = Reader(args)
    print_record(reader.record(NoteFile(folder / f"{name}.ogg", "audio")), reader.folders, args.json)
    if not args.json:
        print("\nYour own: extractor extract RECORDING_OR_NOTE   (extractor --help)")
    return 0


def demo_folder() -> Path:
    """The demo recordings: inside the installed package, or beside it in a checkout.

    Raises:
        InputError: where there are none.
    """
    for folder in (HERE / "audio_demo", HERE.parent / "audio_demo"):
        if (folder / "recordings.toml").is_file():
            return folder
    raise InputError("the demo recordings are missing from this installation; install the program again")


def _listed(folder: Path) -> dict[str, dict[str, object]]:
    return tomllib.loads((folder / "recordings.toml").read_text(encoding="utf-8"))
