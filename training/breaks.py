"""Learn where thoughts part without punctuation (`extractor/language/unpunctuated.py`), from punctuated notes.

    python -m training.breaks extractor/language/unpunctuated.tsv tests/gold/n0*.yaml tests/gold/n1*.yaml ...

The punctuation and capitals of each note are taken away, and a logistic regression over the signs at each token learns
where a sentence began. Its weights are held small and few (L1 and L2), so that only what many speakers share is kept;
where only a comma stood, nothing is sure, and it weighs less. Of a note that never had punctuation the other signs say
where its thoughts part: those were made to read it whole. Notes that are to judge must not be among them.
"""

from __future__ import annotations

import argparse
import re
from pathlib import Path
from unittest import mock

import yaml

from extractor.grammar.packs import Grammar, load_grammar
from extractor.language import clauses
from extractor.language.annotate import annotate
from extractor.language.tokens import tokenize
from extractor.language.unpunctuated import classes_of, is_unpunctuated, may_open, signs_at
from training.regression import Case, learnt

LEAST_TOKENS, LEAST_NOTES = 6, 4
"""A sign is kept that stands at so many tokens, in so many notes."""
L1, L2, COMMA = 1.0, 0.3, 0.3
FIGURES = 8
"""A note with more digits was typed; nobody says it so."""
WORD = re.compile(r"[\w']+")


def without_signs(text: str) -> str:
    """A note as a recognizer in noise writes it: no punctuation, no capitals but spelt letters'; its lines are kept."""
    lines = (re.sub(r"[^\w\s']", " ", line).split() for line in _apart(text).split("\n"))
    return "\n".join(" ".join(w if re.fullmatch("[A-Z]", w) else w.lower() for w in line) for line in lines if line)


def _apart(text: str) -> str:
    return re.sub(r"(?<=[a-z])-(?=[a-z])", " ", text)


def places_of(text: str, number: int, grammar: Grammar) -> list[Case[str]]:
    """Where thoughts may open in a note, and where they did."""
    bare, text = without_signs(text), _apart(text)
    trusted = is_unpunctuated(tokenize(text).words)
    said, heard = list(WORD.finditer(text)), list(WORD.finditer(bare))
    if [m.group().lower() for m in said] != [m.group().lower() for m in heard]:
        return []
    with mock.patch.object(clauses, "thoughts_open") as asked:  # the other signs alone
        note = annotate(bare, grammar)
    words, concepts, fixed, level, grammar = asked.call_args.args
    if not is_unpunctuated(words):
        return []
    classes = classes_of(words, concepts, fixed, grammar)
    at = {start: i for i, start in enumerate(note.tokens.starts)}
    found = []
    for before, m, spoken in zip(said, said[1:], heard[1:], strict=False):
        i, gap = at.get(spoken.start(), 0), text[before.end() : m.start()]
        if i and may_open(words, classes, i):
            comma = not re.search(r"[.?!;\n]", gap) and re.search(r"[,:()]", gap)
            opened = level[i] == 3 if trusted else bool(re.search(r"[.?!;]", gap))
            comma = comma and not trusted
            weight = COMMA if comma else 1.0
            found.append(Case(list(signs_at(words, classes, level, i)), opened, weight, number))
    return found


def main() -> None:
    """Learn from notes and write the weights."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("out", type=Path)
    parser.add_argument("notes", type=Path, nargs="+")
    args = parser.parse_args()
    grammar, places = load_grammar(), []
    for number, path in enumerate(args.notes):
        text = yaml.safe_load(path.read_text(encoding="utf-8"))["note"]
        if sum(c.isdigit() for c in text) <= FIGURES:
            places += places_of(text, number, grammar)
    weights = learnt(places, least=LEAST_TOKENS, notes=LEAST_NOTES, l1=L1, l2=L2)
    lines = [f"{weights[sign]}\t{sign}\n" for sign in sorted(weights)]
    args.out.write_text("".join(lines), encoding="utf-8")
    print(f"{len(places)} places, {sum(p.true for p in places)} opened, {len(weights)} weights")


if __name__ == "__main__":
    main()
