"""What only stands on a form: 'the sheet in the chart still says plug harvest', 'the booking reads microfracture'."""

from __future__ import annotations

from extractor.grammar.packs import Grammar
from extractor.language.clause_words import FINITE, PRONOUNS
from extractor.language.clauses import Span
from extractor.language.concepts import Concept

SUBJECT = 8
"""Tokens from the form to what it says, at most: 'the list on the wall | has'."""
NAMED = 3
"""Tokens from there to the deed, at most; what is told further on is told of something else."""
IDENTIFIES = frozenset({"side", "joint", "tissue"})
"""With these a form tells which operation this is: 'the consent says right knee, meniscal transplant'."""
SPEAKERS = PRONOUNS | {"you", "it", "as", "than", "what"}
"""'As the consent says, ...' is borne out by what follows."""


def on_a_form(clause: Span, deeds: list[Concept], words: list[str], grammar: Grammar) -> bool:
    """Whether a clause tells no more than that a form names a deed."""
    forms, says = grammar.plain_words("form-word"), grammar.plain_words("form-says")
    if forms.isdisjoint(clause.said) or says.isdisjoint(clause.said) or not IDENTIFIES.isdisjoint(clause.lists):
        return False
    form = next(i for i in range(clause.start, clause.end) if words[i] in forms)
    if not (SPEAKERS | (FINITE - says)).isdisjoint(words[clause.start : form]):
        return False
    for deed in deeds:
        verb = next((i for i in range(form + 1, min(form + SUBJECT, deed.start)) if words[i] in says), None)
        subject = words[form + 1 : verb] if verb is not None else []
        if verb is not None and deed.start - verb <= NAMED and (SPEAKERS | FINITE).isdisjoint(subject):
            return True
    return False
