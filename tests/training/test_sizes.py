from __future__ import annotations

from extractor.grammar.packs import load_grammar
from training.regression import Case, learnt
from training.sizes import marked, numbers_of


def test_the_sign_that_tells_weighs_and_the_one_that_does_not_is_light() -> None:
    cases = [Case(["here", "everybody" if n % 2 else "i"], bool(n % 2), 1.0, n) for n in range(40)]
    weights = learnt(cases, least=4, notes=2, l1=0.3, l2=1.0)
    assert weights["everybody"] > 100
    assert weights["i"] < -100
    assert abs(weights.get("here", 0)) < 50


def test_a_sign_of_few_notes_is_not_kept() -> None:
    cases = [Case(["rare" if n < 9 else "common"], n < 9, 1.0, max(n, 8)) for n in range(30)]
    assert "rare" not in learnt(cases, least=4, notes=2, l1=0.0, l2=0.1)


def test_what_is_marked_in_a_sentence_is_another_s_or_this_case_s() -> None:
    line = "Most of them make [ten millimeters], ours is {eight millimeters} over a 2.4 mm pin."
    assert [case.true for case in marked(line, 0, load_grammar())] == [True, False]


def test_an_annotated_note_tells_whose_its_numbers_are() -> None:
    note = {
        "note": "Right knee. The tear is two centimeters long; they all say fifteen millimeters is a lot. Six weeks.",
        "facts": {"measurements": [{"what": "tear.length", "value": 20, "unit": "mm"}]},
        "not_facts": {"measurements": [{"what": "tear.length", "value": 15}, {"what": "rim.width", "value": 6}]},
    }
    assert [case.true for case in numbers_of(note, 0, load_grammar())] == [False, True]
