"""The documentation is whole and true: everything there is is explained, and what the pages show is what comes out.

`python tests/test_docs.py` writes the output that the pages show anew.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import re
import shlex
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from extractor.cli import main
from extractor.cli.parser import build_parser
from extractor.grammar import confusables, limits, packs, rules
from extractor.grammar.packs import load_grammar
from extractor.record.vocabulary import CHECK_SEVERITY

ROOT = Path(__file__).resolve().parent.parent
README, DEVELOPERS, GRAMMARS = ROOT / "README.md", ROOT / "DEVELOPERS.md", ROOT / "grammars" / "README.md"
PAGES = (README, DEVELOPERS, GRAMMARS)
SHOWN = re.compile(
    r"(?P<head><!-- shown by: (?P<command>[^;\n]+?)(?:; up to: (?P<stop>[^\n]+?))? -->\n```text\n)(?P<body>.*?)```",
    re.DOTALL,
)
FILE = re.compile(r"<!-- file: (?P<name>\S+) -->\n```\w+\n(?P<body>.*?)```", re.DOTALL)
ERROR = re.compile(
    r"<!-- error: (?P<name>\S+): (?P<old>[^\n]+) => (?P<new>[^\n]+) -->\n```text\n(?P<body>.*?)```", re.DOTALL
)
CUT = "...\n"


def text_of(page: Path) -> str:
    return page.read_text(encoding="utf-8")


def section(page: Path, title: str) -> str:
    """A page's text under one heading, up to the next of its level or above."""
    prose = re.sub(r"^```.*?^```$", "", text_of(page), flags=re.MULTILINE | re.DOTALL)
    level, rest = re.split(rf"^(#+) {re.escape(title)}$", prose, maxsplit=1, flags=re.MULTILINE)[1:]
    return re.split(rf"^#{{1,{len(level)}}} ", rest, maxsplit=1, flags=re.MULTILINE)[0]


def first_cells(text: str) -> set[str]:
    """Names in backticks in the first column of a page's tables."""
    cells = re.findall(r"^\|([^|]*)\|", text, flags=re.MULTILINE)
    return {name for cell in cells for name in re.findall(r"`([^`]+)`", cell)}


def commands(parser: argparse.ArgumentParser) -> Iterator[str]:
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            for name, inner in action.choices.items():
                yield from ((f"{name} {deeper}" for deeper in commands(inner)) if list(commands(inner)) else (name,))


def options(parser: argparse.ArgumentParser) -> Iterator[str]:
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            for inner in action.choices.values():
                yield from options(inner)
        else:
            yield from (o for o in action.option_strings if o.startswith("--"))


@pytest.mark.parametrize("name", sorted(commands(build_parser())))
def test_every_command_is_in_the_readme(name: str) -> None:
    assert any(cell.startswith(f"extractor {name}") for cell in first_cells(section(README, "Use")))


@pytest.mark.parametrize("code", sorted(CHECK_SEVERITY))
def test_every_check_is_in_the_readme(code: str) -> None:
    assert code in first_cells(section(README, "Flags"))


def test_no_check_is_documented_that_is_not_there() -> None:
    assert first_cells(section(README, "Flags")) == set(CHECK_SEVERITY)


def test_exit_codes_are_those_of_the_program() -> None:
    from extractor import cli

    rows = dict(re.findall(r"^\| (\d) \| ([^|]*) \|", section(README, "Exit codes"), flags=re.MULTILINE))
    assert set(rows) == {str(cli.FINE), str(cli.STOP), str(cli.BAD_INPUT)}


@pytest.mark.parametrize("key", sorted(rules.KEYS))
def test_every_key_of_rules_is_explained(key: str) -> None:
    assert key in first_cells(section(GRAMMARS, "Rules"))


@pytest.mark.parametrize("kind", sorted(rules.KINDS))
def test_every_kind_of_rule_is_explained(kind: str) -> None:
    assert kind in first_cells(section(GRAMMARS, "Rules"))


def test_no_key_or_kind_is_explained_that_is_not_there() -> None:
    assert first_cells(section(GRAMMARS, "Rules")) == set(rules.KEYS) | rules.KINDS


def test_reaches_and_options_of_lists_are_explained() -> None:
    assert all(f"`{reach}`" in section(GRAMMARS, "Rules") for reach in rules.REACHES)
    assert set(packs.OPTIONS) <= first_cells(section(GRAMMARS, "Word lists"))


@pytest.mark.parametrize("form", sorted(limits.FORMS))
def test_every_key_of_limits_and_order_is_explained(form: str) -> None:
    keys = {*limits.FORMS[form][0], *limits.COMMON_KEYS, *limits.VERIFIED}
    said = set(re.findall(r"`([A-Za-z_]+)(?: = true)?`", section(GRAMMARS, "Limits")))
    assert keys <= said


def test_every_line_of_mishearings_is_explained() -> None:
    assert set(confusables.KEYS) == first_cells(section(GRAMMARS, "Mishearings"))


def test_the_lists_named_are_there() -> None:
    named = first_cells(section(GRAMMARS, "Word lists")) - set(packs.OPTIONS) - {"~", "( )", "/", "covers-LIST"}
    grammar = load_grammar()
    assert named <= {name for name, _ in grammar.words} | set(grammar.plain)


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_links_and_paths_are_there(page: Path) -> None:
    text = text_of(page)
    for link in re.findall(r"\]\(([^)#]+)\)", text):
        assert (page.parent / link).exists(), link
    for path in re.findall(r"`((?:extractor|tests|grammars|audio_demo)/[\w./-]+)`", text):
        assert (ROOT / path).exists(), path
    assert "/work" not in text and "index-url" not in text


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_commands_shown_are_commands(page: Path) -> None:
    text = text_of(page)
    shown = re.findall(r"^extractor .+$", text, flags=re.MULTILINE) + re.findall(r"`extractor ([^`]+)`", text)
    for line in shown:
        words = shlex.split(line.removeprefix("extractor "))
        if line.startswith("extractor: ") or "COMMAND" in words or any(w.endswith("...") for w in words):
            continue
        with contextlib.redirect_stdout(io.StringIO()):
            try:
                build_parser().parse_args(words)
            except SystemExit as end:
                assert end.code == 0, f"no such command: {line}"


def test_make_targets_named_are_there() -> None:
    targets = set(re.findall(r"^([a-z]+):", text_of(ROOT / "Makefile"), flags=re.MULTILINE))
    for page in (README, DEVELOPERS):
        assert set(re.findall(r"`make ([a-z]+)`", text_of(page))) <= targets


def run(command: str, at: Path) -> str:
    """What a command prints, errors too, run in a folder."""
    out = io.StringIO()
    with contextlib.chdir(at), contextlib.redirect_stdout(out), contextlib.redirect_stderr(out):
        main(shlex.split(command)[1:])
    return out.getvalue()


def write_packs(page: Path, folder: Path) -> None:
    for found in FILE.finditer(text_of(page)):
        path = folder / "our-packs" / found["name"]
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(found["body"], encoding="utf-8")


def place(page: Path, folder: Path) -> Path:
    """Where a page's commands are run: beside the packs it shows, or in the checkout."""
    if not FILE.search(text_of(page)):
        return ROOT
    write_packs(page, folder)
    return folder


def output(found: re.Match[str], at: Path) -> str:
    """What stands in a page for what a command prints: all of it, or up to a line."""
    text = run(found["command"], at)
    if found["stop"] and f"\n{found['stop']}" in text:
        return text[: text.index(f"\n{found['stop']}") + 1] + CUT
    return text


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_what_is_shown_is_what_comes_out(page: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("COLUMNS", raising=False)
    at = place(page, tmp_path)
    for found in SHOWN.finditer(text_of(page)):
        assert found["body"] == output(found, at), "run 'python tests/test_docs.py' to write it anew"


def test_something_is_shown() -> None:
    assert (
        SHOWN.search(text_of(README)) and SHOWN.search(text_of(GRAMMARS)) and len(ERROR.findall(text_of(GRAMMARS))) == 2
    )


def test_the_mistakes_shown_give_the_messages_shown(tmp_path: Path) -> None:
    for number, found in enumerate(ERROR.finditer(text_of(GRAMMARS))):
        at = tmp_path / str(number)
        write_packs(GRAMMARS, at)
        path = at / "our-packs" / found["name"]
        good = path.read_text(encoding="utf-8")
        assert found["old"] in good
        path.write_text(good.replace(found["old"], found["new"], 1), encoding="utf-8")
        printed = run(f"extractor grammar test our-clinic --grammars '{at}/our-packs'", at)
        assert found["body"].strip() in printed


def regenerate() -> None:
    """Write what the pages show anew."""
    import tempfile

    for page in PAGES:
        with tempfile.TemporaryDirectory() as folder:
            at = place(page, Path(folder))
            text = SHOWN.sub(lambda found, at=at: f"{found['head']}{output(found, at)}```", text_of(page))
        page.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))
    regenerate()
