from __future__ import annotations

from extractor.grammar.packs import load_grammar
from training.regression import Case, learnt
from training.sizes import judged, numbers_of, plain_numbers


def test_the_sign_that_tells_weighs_and_the_one_that_does_not_is_light() -> None:
    cases = [Case(["here", "everybody" if n % 2 else "i"], bool(n % 2), 1.0, n) for n in range(40)]
    weights = learnt(cases, least=4, notes=2, l1=0.3, l2=1.0)
    assert weights["everybody"] > 100
    assert weights["i"] < -100
    assert abs(weights.get("here", 0)) < 50


def test_a_sign_of_few_notes_is_not_kept() -> None:
    cases = [Case(["rare" if n < 9 else "common"], n < 9, 1.0, max(n, 8)) for n in range(30)]
    assert "rare" not in learnt(cases, least=4, notes=2, l1=0.0, l2=0.1)


def test_the_sizes_of_a_rule_s_example_are_this_case_s() -> None:
    found = list(plain_numbers("Left knee. The rim is two millimeters wide, six weeks of rest.", 0, load_grammar()))
    assert [case.true for case in found] == [False]


def test_a_note_is_judged_by_what_the_others_taught() -> None:
    cases = [Case([("c<", "everybody" if n % 2 else "i")], bool(n % 2), 1.0, n) for n in range(40)]
    cases.append(Case([("c<", "everybody")], False, 1.0, 40))
    weighed = judged(cases, 4)
    assert len(weighed) == len(cases) and all(w > 0 for w, case in weighed if case.true)


def test_an_annotated_note_tells_whose_its_numbers_are() -> None:
    note = {
        "note": "Right knee. The tear is two centimeters long; they all say fifteen millimeters is a lot. Six weeks.",
        "facts": {"measurements": [{"what": "tear.length", "value": 20, "unit": "mm"}]},
        "not_facts": {"measurements": [{"what": "tear.length", "value": 15}, {"what": "rim.width", "value": 6}]},
    }
    assert [case.true for case in numbers_of(note, 0, load_grammar())] == [False, True]
