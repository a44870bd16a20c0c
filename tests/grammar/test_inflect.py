"""The small signs of the word lists: `~`, `( )`, `/` and capitals (grammars/README.md, "Word lists").

The regular forms are those of English spelling (-e drops before -ing, -y after a consonant turns to -ie, a single
consonant after a single short vowel doubles): common rules, no source.
"""

from __future__ import annotations

import pytest

from extractor.grammar.inflect import inflections, spellings


@pytest.mark.parametrize(
    ("word", "forms"),
    [
        ("probe", "probe probes probed probing"),
        ("pass", "pass passes passed passing"),
        ("fix", "fix fixes fixed fixing"),
        ("stitch", "stitch stitches stitched stitching"),
        ("wash", "wash washes washed washing"),
        ("carry", "carry carries carried carrying"),
        ("survey", "survey surveys surveyed surveying"),
        ("trim", "trim trims trimmed trimming"),
        ("prep", "prep preps prepped prepping"),
        ("drill", "drill drills drilled drilling"),
        ("clean", "clean cleans cleaned cleaning"),
        ("sew", "sew sews sewed sewing"),
        ("anchor", "anchor anchors anchored anchoring"),
    ],
)
def test_regular_forms(word: str, forms: str) -> None:
    assert inflections(word) == tuple(forms.split())
    assert spellings(f"{word}~") == tuple(forms.split())


@pytest.mark.parametrize(
    ("way", "forms"),
    [
        ("from/off (the) root", ["from the root", "from root", "off the root", "off root"]),
        ("(the/its) root", ["the root", "its root", "root"]),
        ("other (set of the) sutures", ["other set of the sutures", "other sutures"]),
        ("was/were tied", ["was tied", "were tied"]),
        ("rasp~ rim", ["rasp rim", "rasps rim", "rasped rim", "rasping rim"]),
        ("rasp~/burr~", ["rasp", "rasps", "rasped", "rasping", "burr", "burrs", "burred", "burring"]),
        ("(suture) tail~", [f"{lead}tail{end}" for lead in ("suture ", "") for end in ("", "s", "ed", "ing")]),
        ("ACL", ["acl", "a c l"]),
        ("ACL tear", ["acl tear", "a c l tear"]),
        ("Left", ["left"]),
        ("ABCDEF", ["abcdef"]),
        ("plain words", ["plain words"]),
        # British spelling beside the American one; sizes are spelt one way only
        ("anesthesia", ["anesthesia", "anaesthesia"]),
        ("visualized center", ["visualized center", "visualised centre"]),
        ("undersized", ["undersized"]),
        ("f / u", ["f / u"]),
    ],
)
def test_ways_of_saying(way: str, forms: list[str]) -> None:
    assert sorted(spellings(way)) == sorted(forms)


def test_no_form_is_given_twice() -> None:
    forms = spellings("a/a (b/b) c")
    assert len(forms) == len(set(forms))
