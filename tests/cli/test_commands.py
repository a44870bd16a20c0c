"""The other commands, help, exit codes, and what a short command must not load."""

from __future__ import annotations

import argparse
import csv
import json
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from extractor.cli.parser import build_parser

Run = Callable[..., Any]


def subparsers(parser: argparse.ArgumentParser) -> Iterator[tuple[str, argparse.ArgumentParser]]:
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            for name, inner in action.choices.items():
                deeper = list(subparsers(inner))
                yield from ((f"{name} {sub}", p) for sub, p in deeper)
                if not deeper:
                    yield name, inner


COMMANDS = dict(subparsers(build_parser()))


def test_the_commands_are_those_agreed() -> None:
    assert set(COMMANDS) == {
        "transcribe", "extract", "check", "explain", "grammar test", "schema", "demo", "note", "tables", "review",
        "account", "audit",
    }  # fmt: skip


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_help_shows_examples_that_parse_and_exit_codes(run: Run, name: str) -> None:
    ran = run(*name.split(), "--help")
    assert ran.code == 0 and "exit codes" in ran.out
    examples = [line.split("   ")[0].strip() for line in ran.out.splitlines() if line.startswith(f"  extractor {name}")]
    assert examples
    for example in examples:
        import shlex

        args = build_parser().parse_args(shlex.split(example)[1:])
        assert args.module.startswith("extractor.cli.")
    described = [a for a in COMMANDS[name]._actions if not a.help]
    assert not described, f"no help for {described}"


@pytest.mark.parametrize(
    "args", [[], ["nope"], ["extract"], ["extract", "x.txt", "--cores", "0"], ["tables", "r.json"]]
)
def test_a_wrong_call_is_bad_input(run: Run, args: list[str]) -> None:
    assert run(*args).code == 2


def loaded_by(code: str) -> set[str]:
    """Names of the modules a fresh Python has loaded after running some code."""
    show = f"{code}\nimport sys; sys.stderr.write('\\n'.join(sys.modules))"
    done = subprocess.run([sys.executable, "-c", show], capture_output=True, text=True, check=True)
    return set(done.stderr.splitlines())


def test_help_loads_nothing_heavy() -> None:
    loaded = loaded_by("from extractor.cli import main; main(['--help'])")
    assert not {"spacy", "pydantic", "rich", "numpy", "pint", "faster_whisper"} & loaded


HEAVY = {"typer", "spacy.cli", "faster_whisper", "ctranslate2", "av", "pint", "rich"}


@pytest.mark.parametrize("sentence", ["eighteen millimeters", "The posterior root, cut to 9mm and 18.5 mm."])
def test_explaining_plain_words_loads_not_even_spacy(sentence: str) -> None:
    loaded = loaded_by(f"from extractor.cli import main; main(['explain', {sentence!r}])")
    assert not (HEAVY | {"spacy", "numpy"}) & loaded


def test_explain_loads_no_recognizer_no_spacy_command_line_and_no_unit_registry() -> None:
    loaded = loaded_by("from extractor.cli import main; main(['explain', \"10 °, and so on...\"])")
    assert "spacy" in loaded
    assert not HEAVY & loaded


def test_spacy_s_own_command_line_still_works_afterwards() -> None:
    code = (
        "from extractor.language.quick import import_spacy; import_spacy(); import spacy\n"
        "assert spacy.info(silent=True)['spacy_version'] == spacy.__version__\n"
        "import spacy.cli, spacy.cli.info; assert spacy.cli.info.__module__ == 'spacy.cli.info'"
    )
    assert "typer" in loaded_by(code)


def test_as_a_module_and_into_a_closed_pipe(fine: Path) -> None:
    done = subprocess.run(
        f"'{sys.executable}' -m extractor extract '{fine}' | head -1",
        shell=True, capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert done.stdout.startswith("fine") and not done.stderr


def test_schema_is_the_record_s(run: Run, fine: Path, tmp_path: Path) -> None:
    schema = run("schema").json
    assert schema["$schema"].startswith("https://json-schema.org/")
    record = run("extract", fine, "--json").json
    assert set(record) <= set(schema["properties"])
    run("schema", "-o", tmp_path / "s.json")
    assert json.loads((tmp_path / "s.json").read_text(encoding="utf-8")) == schema


def test_check_sets_flags_anew(run: Run, fine: Path, tmp_path: Path) -> None:
    run("extract", fine, "-o", tmp_path / "r.json")
    assert run("check", tmp_path / "r.json").code == 0
    ran = run("check", tmp_path / "r.json", "--schedule-side", "left", "--json")
    assert ran.code == 1 and [f["check"] for f in ran.json if f["severity"] == "stop"] == ["side-conflict"]
    ran = run(
        "check", tmp_path / "r.json", "--schedule-side", "left", "--off", "side-conflict", "-o", tmp_path / "c.json"
    )
    assert ran.code == 0 and (tmp_path / "c.json").is_file()


def test_check_takes_a_site_s_limits(run: Run, fine: Path, tmp_path: Path) -> None:
    """Forty minutes of tourniquet are told, which a site that asks from thirty on is asked about."""
    run("extract", fine, "-o", tmp_path / "r.json")
    checks = [f["check"] for f in run("check", tmp_path / "r.json", "--tourniquet-long", 30, "--json").json]
    assert "tourniquet-long" in checks
    assert "tourniquet-long" not in [f["check"] for f in run("check", tmp_path / "r.json", "--json").json]


def test_check_refuses_what_is_no_record_and_goes_on(run: Run, fine: Path, tmp_path: Path) -> None:
    run("extract", fine, "-o", tmp_path / "recs" / "r.json")
    (tmp_path / "recs" / "bad.json").write_text("[]", encoding="utf-8")
    ran = run("check", tmp_path / "recs")
    assert ran.code == 2 and "bad.json" in ran.err and ran.out.startswith("fine")
    assert run("check", tmp_path / "recs" / "r.json", "--off", "nonsense").code == 2


def test_note_and_tables_of_a_record(run: Run, fine: Path, two_sides: Path, tmp_path: Path) -> None:
    run("extract", fine, two_sides, "-o", tmp_path / "recs")
    note = run("note", tmp_path / "recs" / "fine.json")
    assert note.code == 0 and "DRAFT" in note.out and "not dictated" in note.out
    assert run("note", tmp_path / "recs" / "two-sides.json", "-o", tmp_path / "n.txt").code == 1
    assert "must be settled" in (tmp_path / "n.txt").read_text(encoding="utf-8")
    assert run("tables", tmp_path / "recs", "-o", tmp_path / "t").code == 0
    with (tmp_path / "t" / "cases.csv").open(encoding="utf-8", newline="") as file:
        assert {row["case_id"]: row["side"] for row in csv.DictReader(file)}["fine"] == "right"


GOOD_AND_BAD = """\
["a widget was placed"]
gives    = "step closure"
meets    = ["widget"]
examples = ["A widget was placed in the knee.", "The knee got a widget. -> 4 mm"]
never    = ["The knee was closed over a widget."]
"""


def test_grammar_test_names_file_and_line_of_what_fails(run: Run, tmp_path: Path) -> None:
    pack = tmp_path / "packs" / "ours"
    pack.mkdir(parents=True)
    (pack / "words.txt").write_text("[thing]\nwidget = widget\n", encoding="utf-8")
    (pack / "rules.toml").write_text("# ours\n" + GOOD_AND_BAD, encoding="utf-8")
    ran = run("grammar", "test", "ours", "--grammars", tmp_path / "packs")
    assert ran.code == 1
    lines = ran.out.splitlines()
    assert len(lines) == 3 and all(
        line.startswith("ours/rules.toml:2: rule 'a widget was placed'") for line in lines[:2]
    )
    assert "4 mm" in lines[0] and "must not" in lines[1] and "1 rules fail" in lines[2]


def test_grammar_test_knows_its_rules(run: Run) -> None:
    assert run("grammar", "test", "no such rule").code == 2


def test_demo_lists_its_recordings(run: Run) -> None:
    ran = run("demo", "--list")
    assert ran.code == 0 and len(ran.out.splitlines()) >= 4
    assert run("demo", "no-such-recording").code == 2
