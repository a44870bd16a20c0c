"""Which of several rules reads a number is written down and total; equal ones that differ are set aside and flagged.

The order is that of grammars/README.md, tried with rules of a pack made for these tests.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import permutations
from pathlib import Path

import pytest

from extractor.facts.engine import read_facts
from extractor.facts.reading import Reading
from extractor.grammar.packs import load_grammar
from extractor.language.annotate import annotate

WORDS = "[thing]\nwidget = widget\ngadget = gadget\n[cue]\nshiny = shiny\n"
SHOWN = 'examples = ["a", "b"]\nnever = ["c"]\n'
PLAIN = f'takes = "length"\nof = "widget"\n{SHOWN}'

Read = Callable[[str, dict[str, str]], Reading]


@pytest.fixture
def read(tmp_path: Path) -> Read:
    def call(text: str, rules: dict[str, str]) -> Reading:
        pack = tmp_path / f"pack{len(list(tmp_path.iterdir()))}"
        pack.mkdir()
        (pack / "words.txt").write_text(WORDS, encoding="utf-8")
        body = "".join(f'["{name}"]\n{rule}' for name, rule in rules.items())
        (pack / "rules.toml").write_text(body, encoding="utf-8")
        grammar = load_grammar([pack])
        return read_facts(annotate(text, grammar))

    return call


def what(reading: Reading) -> list[object]:
    return [d.fields["what"] for d in reading.drafts if d.kind == "measurements"]


def test_one_rule_reads(read: Read) -> None:
    assert what(read("Knee. A widget of 7 mm.", {"one": f'gives = "measurement widget.size"\n{PLAIN}'})) == [
        "widget.size"
    ]


def test_equal_rules_that_differ_are_both_set_aside_and_flagged(read: Read) -> None:
    rules = {
        "the one": f'gives = "measurement widget.size"\n{PLAIN}',
        "the other": f'gives = "measurement widget.span"\n{PLAIN}',
    }
    for names in permutations(rules):
        reading = read("Knee. A widget of 7 mm.", {name: rules[name] for name in names})
        assert what(reading) == []
        (flag,) = reading.flags
        assert flag.check == "unread-number"
        assert "two ways" in flag.message and "the one" in flag.message and "the other" in flag.message


def test_equal_rules_that_agree_read_once(read: Read) -> None:
    rules = {name: f'gives = "measurement widget.size"\n{PLAIN}' for name in ("b", "a")}
    assert what(read("Knee. A widget of 7 mm.", rules)) == ["widget.size"]


@pytest.mark.parametrize("first", ["plain", "special"])
def test_the_rule_that_asks_for_more_wins(first: str, read: Read) -> None:
    rules = {
        "plain": f'gives = "measurement widget.size"\n{PLAIN}',
        "special": f'gives = "measurement widget.span"\nmeets = ["shiny"]\n{PLAIN}',
    }
    ordered = dict(sorted(rules.items(), key=lambda item: item[0] != first))
    assert what(read("Knee. A shiny widget of 7 mm.", ordered)) == ["widget.span"]
    assert what(read("Knee. A widget of 7 mm.", ordered)) == ["widget.size"]


def test_words_beside_the_number_go_before_all_else(read: Read) -> None:
    rules = {
        "special": f'gives = "measurement widget.span"\nmeets = ["shiny"]\nalso = ["width"]\n{PLAIN}',
        "worded": f'gives = "measurement widget.width"\nwords = ["width"]\n{PLAIN}',
    }
    assert what(read("Knee. A shiny widget 7 mm wide.", rules)) == ["widget.width"]


def test_the_nearer_thing_wins(read: Read) -> None:
    rules = {
        "one": f'gives = "measurement widget.size"\n{PLAIN}',
        "other": f'gives = "measurement gadget.size"\n{PLAIN.replace("widget", "gadget")}',
    }
    assert what(read("Knee. The gadget held a widget of 7 mm.", rules)) == ["widget.size"]
    assert what(read("Knee. The widget held a gadget of 7 mm.", rules)) == ["gadget.size"]


def test_a_word_left_over_makes_a_rule_pass_by(read: Read) -> None:
    """A number said to be wide is no length, where the rule does not allow for it."""
    reading = read("Knee. A widget 7 mm wide.", {"one": f'gives = "measurement widget.size"\n{PLAIN}'})
    assert what(reading) == [] and [f.check for f in reading.flags] == ["unread-number"]


@pytest.mark.parametrize(
    ("reach", "texts"),
    [
        ("next", ["Knee. A 7 mm widget."]),
        ("clause", ["Knee. A 7 mm widget.", "Knee. The widget was 7 mm."]),
        ("sentence", ["Knee. The widget was 7 mm.", "Knee. The widget was seen, it was 7 mm."]),
        ("before", ["Knee. The widget was seen, it was 7 mm.", "Knee. The widget was seen. It was 7 mm."]),
    ],
)
def test_reach(reach: str, texts: list[str], read: Read) -> None:
    rule = {"one": f'gives = "measurement widget.size"\nreach = "{reach}"\n{PLAIN}'}
    for text in texts:
        assert what(read(text, rule)) == ["widget.size"], text
    beyond = {
        "next": "Knee. The widget was 7 mm.",
        "clause": "Knee. The widget was seen and it was 7 mm.",
        "sentence": "Knee. The widget was seen. There it was, 7 mm.",
        "before": "Knee. The widget was seen. Then we sat. We stood. We walked. It was 7 mm.",
    }
    assert what(read(beyond[reach], rule)) == []


@pytest.mark.parametrize(("part", "value"), [(0, 7), (1, 5)])
def test_part_of_a_product(part: int, value: float, read: Read) -> None:
    reading = read(
        "Knee. A widget of 7 by 5 mm.", {"one": f'gives = "measurement widget.size"\npart = {part}\n{PLAIN}'}
    )
    assert [d.fields["value"] for d in reading.drafts if d.kind == "measurements"] == [value]
