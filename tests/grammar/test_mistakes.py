"""Each mistake in a pack is refused by one sentence that names file and line, and says what to do.

The mistakes are those grammars/README.md warns of; `clinic` is a pack made for these tests.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from extractor.errors import GrammarError
from extractor.facts.engine import read_facts
from extractor.grammar.limits import load_limits
from extractor.grammar.packs import Grammar, load_grammar
from extractor.grammar.rules import DIMENSIONS
from extractor.language.annotate import annotate
from extractor.language.units import unit_words
from extractor.outputs.examples import chosen, try_examples
from extractor.second_reading.weighing import weighing_of

RULE = """["tails were cut"]
gives = "step tail-cutting"
meets = ["abrade"]
examples = ["A tail was cut.", "I cut the tail."]
never = ["The tail was long."]
"""
WORDS = "words.txt"
RULES = "steps.toml"
PACK = "pack.toml"

MISTAKES: dict[str, tuple[dict[str, str], str, int, str]] = {
    # what is wrong: the pack's files; the file and line to be named; what the message must say
    "duplicate heading": ({WORDS: "[color]\nmauve = mauve\n[color]\n"}, WORDS, 3, "put its words there"),
    "duplicate concept": ({WORDS: "[color]\nmauve = mauve\nmauve = puce\n"}, WORDS, 3, "add to that line"),
    "duplicate word": ({WORDS: "[color]\nmauve = mauve\npuce = puce | mauve\n"}, WORDS, 3, "'mauve' is in line 2"),
    "duplicate inflection": ({WORDS: "[color]\nmauve = fades\npuce = fade~\n"}, WORDS, 3, "'fades' is in line 2"),
    "word of another pack": ({WORDS: "[color]\nmauve = white\n"}, WORDS, 2, "means 'white' in common/sutures.txt"),
    "unknown option": ({WORDS: "# ours\n[color coverz]\nmauve = mauve\n"}, WORDS, 2, "options: concepts, coordinates"),
    "ending of two words": ({WORDS: "[device]\nours = ~bone staple\n"}, WORDS, 2, "only one word of at least 5"),
    "short ending": ({WORDS: "[device]\nours = ~pin~\n"}, WORDS, 2, "only one word of at least 5 letters"),
    "two words in a plain list": ({WORDS: "[ours plain]\nmoods = far away\n"}, WORDS, 2, "has more than one word"),
    "shipped list made plain": ({WORDS: "[color plain]\nmauve = mauve\n"}, WORDS, 1, "give this one another name"),
    "rule about a plain list": (
        {WORDS: "[ours plain]\nmoods = calm\n", RULES: RULE.replace("abrade", "<ours>")}, RULES, 1, "<ours>",
    ),
    "concept that no list has": (
        {WORDS: "[lasting concepts]\nlasting = device:scew\n"}, WORDS, 2, "'device:scew', did you mean 'screw'?",
    ),
    "shipped list made one of concepts": (
        {WORDS: "[color concepts]\nmauve = device:screw\n"}, WORDS, 1, "not marked 'concepts' by an earlier pack",
    ),
    "heading of another form": ({WORDS: "[Our Colors\nmauve = mauve\n"}, WORDS, 1, "a heading reads '[name]'"),
    "line of another form": ({WORDS: "[color]\n\nmauve, puce\n"}, WORDS, 3, "a line reads 'concept = way of saying"),
    "concept without words": ({WORDS: "[color]\nmauve =\n"}, WORDS, 2, "a line reads 'concept = way of saying"),
    "name with a blank": ({WORDS: "[color]\nlight mauve = mauve\n"}, WORDS, 2, "use letters, digits and '-'"),
    "word before any heading": ({WORDS: "# ours\nmauve = mauve\n"}, WORDS, 2, "name the list first"),
    "unknown key": ({RULES: RULE.replace("gives", "givs")}, RULES, 1, "'givs', did you mean 'gives'?"),
    "text for a list": ({RULES: RULE.replace('["abrade"]', '"abrade"')}, RULES, 1, "'meets' must be a list of texts"),
    "numbers in a list": ({RULES: RULE.replace('["abrade"]', "[1]")}, RULES, 1, "'meets' must be a list of texts"),
    "text for a number": ({RULES: RULE + 'part = "1"\n'}, RULES, 1, "'part' must be a whole number"),
    "number for a yes": ({RULES: RULE + "bare = 1\n"}, RULES, 1, "'bare' must be true or false"),
    "list for a text": ({RULES: RULE + 'of = ["graft"]\n'}, RULES, 1, "'of' must be text in quotes"),
    "unknown concept": ({RULES: RULE.replace("abrade", "abrad")}, RULES, 1, "'abrad', did you mean 'abrade'?"),
    "unknown list": ({RULES: RULE.replace("abrade", "<colour>")}, RULES, 1, "<colour>, did you mean 'color'?"),
    "unknown list in a field": ({RULES: RULE + 'fields = ["role = <colr>"]\n'}, RULES, 1, "did you mean 'color'?"),
    "ambiguous concept": (
        {WORDS: "[ours]\ntwig = twig\n[theirs]\ntwig = branch\n", RULES: RULE.replace("abrade", "twig")},
        RULES, 1, "write one of ours:twig, theirs:twig",
    ),
    "one example only": ({RULES: RULE.replace(', "I cut the tail."', "")}, RULES, 1, "at least two 'examples'"),
    "no sentence under never": ({RULES: RULE.replace('["The tail was long."]', "[]")}, RULES, 1, "one sentence under"),
    "nothing given": ({RULES: RULE.replace('gives = "step tail-cutting"\n', "")}, RULES, 1, "must name a kind and a"),
    "unknown kind": ({RULES: RULE.replace("step tail", "stepp tail")}, RULES, 1, "kinds: "),
    "nothing asked for": ({RULES: RULE.replace('meets = ["abrade"]\n', "")}, RULES, 1, "give 'meets', 'takes' or"),
    "unknown reach": ({RULES: RULE + 'reach = "far"\n'}, RULES, 1, "one of next, clause, sentence, before, note"),
    "unknown dimension": ({RULES: RULE + 'takes = "lenght"\n'}, RULES, 1, "not 'lenght', did you mean 'length'?"),
    "unknown negation": ({RULES: RULE + 'negation = "keep"\n'}, RULES, 1, "one of keeps, declines, asks, not 'keep'"),
    "yes for a part": ({RULES: RULE + "part = true\n"}, RULES, 1, "'part' must be a whole number"),
    "yes for a number": ({RULES: RULE + "max_words = true\n"}, RULES, 1, "'max_words' must be a whole number"),
    "fourth part": ({RULES: RULE + "part = 3\n"}, RULES, 1, "'part' is one of 0, 1, 2, not 3"),
    "rule about what no list has": ({RULES: RULE + 'about = ["nee"]\n'}, RULES, 1, "'about:nee', did you mean"),
    "pack about what no list has": ({RULES: RULE, PACK: 'about = ["wrist"]\n'}, PACK, 1, "has 'about:wrist'"),
    "pack of another form": ({RULES: RULE, PACK: 'abuot = ["knee"]\n'}, PACK, 1, 'holds one line, as: about = ["s'),
    "pack about nothing": ({RULES: RULE, PACK: "about = []\n"}, PACK, 1, "holds one line"),
    "broken pack file": ({RULES: RULE, PACK: "\nabout = knee\n"}, PACK, 2, "Invalid value"),
    "list left open at the end": ({RULES: RULE.replace('long."]\n', 'long."\n')}, RULES, 5, "Unclosed array"),
    "field of another form": ({RULES: RULE + 'fields = ["role made"]\n'}, RULES, 1, "a field reads 'name = value'"),
    "key outside any rule": ({RULES: 'gives = "step x"\n' + RULE}, RULES, 1, 'open one with ["what it reads"]'),
    "second of two rules": ({RULES: RULE + RULE.replace("tails", "ends").replace("meets", "mets")}, RULES, 6, "mets"),
    "broken TOML": ({RULES: RULE.replace('["abrade"]', "abrade")}, RULES, 3, "Invalid value"),
    "rule given twice": ({"more.toml": RULE, RULES: RULE}, RULES, 1, "stands in clinic/more.toml:1 already; name it"),
}  # fmt: skip


def pack_of(folder: Path, files: dict[str, str]) -> Path:
    pack = folder / "clinic"
    pack.mkdir(parents=True)
    for name, text in files.items():
        (pack / name).write_text(text, encoding="utf-8")
    return pack


@pytest.mark.parametrize("mistake", MISTAKES)
def test_mistake_is_told_with_file_and_line_and_what_to_do(mistake: str, tmp_path: Path) -> None:
    files, file, line, advice = MISTAKES[mistake]
    with pytest.raises(GrammarError) as raised:
        load_grammar([pack_of(tmp_path, files)])
    message = str(raised.value)
    assert message.startswith(f"clinic/{file}:{line}: "), message
    assert advice in message
    assert "\n" not in message


def test_the_pack_without_a_mistake_is_taken(tmp_path: Path) -> None:
    """What the table breaks is right before it is broken."""
    pack = pack_of(tmp_path, {WORDS: "[color]\nmauve = mauve\n", RULES: RULE})
    assert "tails were cut" in {rule.name for rule in load_grammar([pack]).rules}


def test_a_mistake_in_weights_is_told_with_its_line(tmp_path: Path) -> None:
    pack = pack_of(tmp_path, {WORDS: "[color]\nmauve = mauve\n", "second-reading.toml": "[hearing]\nscale = much\n"})
    with pytest.raises(GrammarError, match=r"^clinic/second-reading.toml:2: Invalid value"):
        weighing_of(load_grammar([pack]))


def test_a_mistake_in_limits_left_open_is_told_at_the_end(tmp_path: Path) -> None:
    pack = pack_of(tmp_path, {"limits.toml": '["a.b"]\nusual = [1,\n2\n\n'})
    with pytest.raises(GrammarError, match=r"^clinic/limits.toml:3: Unclosed array"):
        load_limits([pack])


def test_dimensions_are_those_of_the_units() -> None:
    known = {unit.dimension for unit in unit_words().units.values()}
    assert set(DIMENSIONS) <= known and set(unit_words().canonical) <= set(DIMENSIONS)


CLASH = """["the rim was abraded in our way"]
gives = "step our-abrasion"
meets = ["ours:abrade"]
examples = ["The meniscus rim was sanded.", "We sanded the meniscus."]
never = ["The meniscus was seen."]
"""


def test_a_name_that_a_shipped_list_has_too_leaves_shipped_rules_alone(tmp_path: Path, grammar: Grammar) -> None:
    ours = load_grammar([pack_of(tmp_path, {WORDS: "[ours]\nabrade = sanded\n", RULES: CLASH})])
    assert not try_examples(chosen(ours, ["clinic"]), ours).failures
    text = "Right knee. The meniscal rim was abraded; the meniscus was sanded."
    codes = [d.fields["code"] for d in read_facts(annotate(text, ours)).drafts if d.kind == "steps"]
    assert "our-abrasion" in codes and "rim-abrasion" in codes
    assert {r.name: r.meets for r in grammar.rules}.items() <= {r.name: r.meets for r in ours.rules}.items()


def test_a_name_of_two_lists_is_asked_about_in_the_site_rule_that_says_it(tmp_path: Path) -> None:
    files = {WORDS: "[ours]\nabrade = sanded\n", RULES: CLASH.replace("ours:abrade", "abrade")}
    with pytest.raises(GrammarError, match=r"^clinic/steps.toml:1: .*write one of action:abrade, ours:abrade"):
        load_grammar([pack_of(tmp_path, files)])


def test_words_of_a_site_go_into_the_lists_that_shipped_rules_name(tmp_path: Path) -> None:
    ours = load_grammar([pack_of(tmp_path, {WORDS: "[color]\nmauve = mauve\n"})])
    rule = next(r for r in ours.rules if any("color:white" in wanted for wanted in (*r.meets, *r.near, r.unless)))
    assert any("color:mauve" in wanted for wanted in (*rule.meets, *rule.near, rule.unless))


def test_no_folder(tmp_path: Path) -> None:
    with pytest.raises(GrammarError, match="no such folder of grammar packs"):
        load_grammar([tmp_path / "nowhere"])


@pytest.mark.parametrize("files", [{}, {"README.md": "nothing yet"}])
def test_folder_without_a_pack(files: dict[str, str], tmp_path: Path) -> None:
    with pytest.raises(GrammarError, match=r"holds no grammar pack; a pack is a folder with \*\.txt .* or \*\.toml"):
        load_grammar([pack_of(tmp_path, files)])


@pytest.mark.parametrize(
    ("name", "text"), [(WORDS, "[color]\nmauve = mauvé\n"), (RULES, "# é\n" + RULE), ("limits.toml", "\n# é\n")]
)
def test_a_file_that_is_not_utf8_is_told_with_its_line(tmp_path: Path, name: str, text: str) -> None:
    pack = tmp_path / "clinic"
    pack.mkdir()
    (pack / WORDS).write_text("[color]\nmauve = mauve\n", encoding="utf-8")
    (pack / name).write_bytes(text.encode("latin-1"))
    line = text[: text.index("é")].count("\n") + 1
    with pytest.raises(GrammarError, match=re.escape(f"clinic/{name}:{line}: cannot be read")):
        if name == "limits.toml":
            load_limits((tmp_path,))
        else:
            load_grammar((tmp_path,))


def test_a_plain_list_goes_on_in_a_pack_of_ones_own(tmp_path: Path, grammar: Grammar) -> None:
    ours = load_grammar([pack_of(tmp_path, {WORDS: "[complaint]\nours = twinges\n"})])
    text = "Left knee. Right knee twinges. The meniscus was repaired."
    sides = [
        {d.fields["value"] for d in read_facts(annotate(text, packs)).drafts if d.kind == "laterality"}
        for packs in (grammar, ours)
    ]
    assert sides == [{"left", "right"}, {"left"}]
    assert ours.keys("complaint") == () and "complaint" not in {name for name, _ in ours.words}


def test_a_list_of_concepts_goes_on_in_a_pack_of_ones_own(tmp_path: Path) -> None:
    text = "Meniscus repaired. The old rod, eight by twenty millimeters, was removed."
    words = "[device]\nrod = rod~\n"
    packs = [
        load_grammar([pack_of(tmp_path / "bare", {WORDS: words})]),
        load_grammar([pack_of(tmp_path / "told", {WORDS: words + "[lasting concepts]\nlasting = device:rod\n"})]),
    ]
    read = [[d.fields["kind"] for d in read_facts(annotate(text, own)).drafts if d.kind == "devices"] for own in packs]
    assert read == [["rod"], []]
    assert packs[1].keys("lasting") == ()
