"""Each mistake in a pack is refused by one sentence that names file and line, and says what to do.

The mistakes are those grammars/README.md warns of; `clinic` is a pack made for these tests.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from extractor.errors import GrammarError
from extractor.grammar.limits import load_limits
from extractor.grammar.packs import load_grammar

RULE = """["tails were cut"]
gives = "step tail-cutting"
meets = ["abrade"]
examples = ["A tail was cut.", "I cut the tail."]
never = ["The tail was long."]
"""
WORDS = "words.txt"
RULES = "steps.toml"

MISTAKES: dict[str, tuple[dict[str, str], str, int, str]] = {
    # what is wrong: the pack's files; the file and line to be named; what the message must say
    "duplicate heading": ({WORDS: "[color]\nmauve = mauve\n[color]\n"}, WORDS, 3, "put its words there"),
    "duplicate concept": ({WORDS: "[color]\nmauve = mauve\nmauve = puce\n"}, WORDS, 3, "add to that line"),
    "duplicate word": ({WORDS: "[color]\nmauve = mauve\npuce = puce | mauve\n"}, WORDS, 3, "'mauve' is in line 2"),
    "duplicate inflection": ({WORDS: "[color]\nmauve = fades\npuce = fade~\n"}, WORDS, 3, "'fades' is in line 2"),
    "word of another pack": ({WORDS: "[color]\nmauve = white\n"}, WORDS, 2, "means 'white' in common/sutures.txt"),
    "unknown option": ({WORDS: "# ours\n[color coverz]\nmauve = mauve\n"}, WORDS, 2, "options: coordinates, covers"),
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
    "field of another form": ({RULES: RULE + 'fields = ["role made"]\n'}, RULES, 1, "a field reads 'name = value'"),
    "key outside any rule": ({RULES: 'gives = "step x"\n' + RULE}, RULES, 1, 'open one with ["what it reads"]'),
    "second of two rules": ({RULES: RULE + RULE.replace("tails", "ends").replace("meets", "mets")}, RULES, 6, "mets"),
    "broken TOML": ({RULES: RULE.replace('["abrade"]', "abrade")}, RULES, 3, "Invalid value"),
    "rule given twice": ({"more.toml": RULE, RULES: RULE}, RULES, 1, "stands in clinic/more.toml:1 already; name it"),
}  # fmt: skip


def pack_of(folder: Path, files: dict[str, str]) -> Path:
    pack = folder / "clinic"
    pack.mkdir()
    for name, text in files.items():
        (pack / name).write_text(text, encoding="utf-8")
    return pack


@pytest.mark.parametrize("mistake", MISTAKES)
def test_mistake_is_told_with_file_and_line_and_what_to_do(mistake: str, tmp_path: Path) -> None:
    files, file, line, advice = MISTAKES[mistake]
    with pytest.raises(GrammarError) as raised:
        load_grammar([pack_of(tmp_path, files)])
    message = str(raised.value)
    assert re.match(rf"(clinic/)?{re.escape(file)}:{line}: ", message), message
    assert advice in message
    assert "\n" not in message


def test_the_pack_without_a_mistake_is_taken(tmp_path: Path) -> None:
    """What the table breaks is right before it is broken."""
    pack = pack_of(tmp_path, {WORDS: "[color]\nmauve = mauve\n", RULES: RULE})
    assert "tails were cut" in {rule.name for rule in load_grammar([pack]).rules}


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
