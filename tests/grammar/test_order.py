"""What is read never depends on the order in which packs, files and lines stand; a site's own pack adds to it."""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

import pytest
import yaml

from extractor.facts.engine import read_facts
from extractor.grammar.packs import Grammar, load_grammar
from extractor.language.annotate import annotate
from extractor.pipeline import extract
from extractor.speech.transcript import Transcript

NOTES = sorted((Path(__file__).resolve().parents[1] / "gold").glob("n*.yaml"))

WORDS = """# Words of our clinic.
[thing]
suture-tail = (suture) tail~

[action]
cut-tail = cut short

[color]
mauve = mauve
"""
RULES = """["suture tails <length>"]
gives    = "measurement stitch.tail"
takes    = "length"
of       = "suture-tail"
examples = ["The suture tails of the meniscus were three millimeters.", "Meniscus done, four millimeter tails."]
never    = ["The meniscus tear was three millimeters long."]

["the suture tails were cut"]
gives    = "step tail-cutting"
meets    = ["cut-tail"]
of       = "suture-tail"
examples = ["The suture tails of the meniscus were cut short.", "Meniscus repaired, the tails cut short."]
never    = ["The meniscus was cut short."]
"""


def shuffled(grammar: Grammar, seed: int) -> Grammar:
    """The same packs read in another order: words and rules of all files mixed."""
    rng = random.Random(seed)
    words, rules = list(grammar.words), list(grammar.rules)
    rng.shuffle(words)
    rng.shuffle(rules)
    return replace(grammar, words=tuple(words), rules=tuple(rules))


@pytest.mark.parametrize("seed", [1, 2])
def test_order_of_files_and_lines_never_decides(seed: int, grammar: Grammar) -> None:
    other = shuffled(grammar, seed)
    assert other.rules != grammar.rules and other.words != grammar.words
    assert len(NOTES) > 50
    for path in NOTES[seed::3]:
        transcript = Transcript(text=yaml.safe_load(path.read_text(encoding="utf-8"))["note"])
        assert extract(transcript, other) == extract(transcript, grammar), path.name


@pytest.fixture
def clinic(tmp_path: Path) -> Path:
    pack = tmp_path / "clinic"
    pack.mkdir()
    (pack / "words.txt").write_text(WORDS, encoding="utf-8")
    (pack / "rules.toml").write_text(RULES, encoding="utf-8")
    return tmp_path


NOTE = "Meniscus sutures: posterior superior mauve. The suture tails were left at three millimeters and cut short."


def read(grammar: Grammar) -> list[tuple[str, object]]:
    drafts = read_facts(annotate(NOTE, grammar)).drafts
    names = {"measurements": "what", "steps": "code", "sutures": "color"}
    return sorted((d.kind, d.fields.get(names[d.kind])) for d in drafts if d.kind in names)


def test_a_site_pack_adds_words_and_rules(clinic: Path, grammar: Grammar) -> None:
    ours = load_grammar([clinic])
    assert ours.packs == (*grammar.packs, "clinic")
    before, after = read(grammar), read(ours)
    new = [("measurements", "stitch.tail"), ("steps", "tail-cutting"), ("sutures", "mauve")]
    assert not set(new) & set(before)
    assert set(new) <= set(after)


def test_a_pack_may_be_named_itself(clinic: Path) -> None:
    assert read(load_grammar([clinic / "clinic"])) == read(load_grammar([clinic]))


def test_a_site_pack_leaves_what_was_read_as_it_was(clinic: Path, grammar: Grammar) -> None:
    ours = load_grammar([clinic])
    text = "Right knee. The meniscal rim was rasped; the defect measured twelve millimeters along the rim."
    assert read_facts(annotate(text, ours)) == read_facts(annotate(text, grammar))
