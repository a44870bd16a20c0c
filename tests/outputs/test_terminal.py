"""The terminal view: what stands where, at every width, without color."""

from __future__ import annotations

import io

import pytest
from rich.console import Console

from extractor.grammar.limits import load_limits
from extractor.outputs.terminal import CAUTION, view
from extractor.outputs.wording import Wording
from extractor.record import CaseRecord

from .builders import Said, whole_case


def shown(record: CaseRecord, width: int = 100) -> str:
    out = io.StringIO()
    Console(file=out, width=width, highlight=False).print(view(record, Wording.of(load_limits())))
    return out.getvalue()


def line(text: str, part: str) -> str:
    return next(row for row in text.splitlines() if part in row)


def test_doubts_come_first_the_gravest_first_with_their_number() -> None:
    text = shown(whole_case().record(("value-conflict", "stop", ("m1",)), ("step-order", "review", ("st1",))))
    assert "1 to settle before signing, 1 to review" in text
    assert text.index("SETTLE") < text.index("review  Message") < text.index("LEFT knee") < text.index("MEASUREMENTS")


def test_side_and_procedure() -> None:
    text = shown(whole_case().record())
    assert "LEFT knee of the patient" in text
    assert "Segmental medial meniscus transplant" in text
    assert "earlier operation" in line(text, "artial meniscectomy")


def test_a_missing_side_is_said() -> None:
    assert "SIDE NOT SAID" in shown(Said().say("steps", "rasped", code="rim-abrasion").record())


def test_measurements_are_grouped_by_thing_with_role_and_second() -> None:
    text = shown(whole_case().record(("value-conflict", "stop", ("m1",)))).split("MEASUREMENTS")[1].split("SUTURES")[0]
    defect = line(text, "length of the defect")
    assert "19 mm !!" in defect and "after 18" in defect and "observed" in defect and "1:10" in defect
    assert "1 to 2 mm" in line(text, "width of the rim")
    assert "no unit" in line(text, "width of the graft")
    assert "not this case" in line(text, "allowance")
    assert "about 10 mL" in line(text, "blood loss")
    order = [
        text.index(part) for part in ("length of the defect", "width of the rim", "width of the graft", "tourniquet")
    ]
    assert order == sorted(order)


def test_native_and_graft_side_by_side_and_what_was_not_said() -> None:
    text = shown(whole_case().record()).split("SUTURES AT EACH POSITION")[1].split("TIES")[0]
    heads = [row.split() for row in text.splitlines() if row.strip()][:2]
    assert heads == [["NATIVE", "NATIVE", "GRAFT", "GRAFT"], ["posterior", "anterior", "posterior", "anterior"]]
    superior, inferior = line(text, "superior"), line(text, "inferior")
    assert superior.split() == ["superior", "white", "green", "white", "green"]
    assert inferior.split() == ["inferior", "blue", "not", "said", "blue", "black"]


def test_a_tie_is_drawn_in_its_column_and_told() -> None:
    text = shown(whole_case().record())
    table = text.split("SUTURES AT EACH POSITION")[1].split("TIES")[0].splitlines()
    drawn = next(row for row in table if row.strip() and set(row.strip()) <= {"|", " "})
    superior = next(row for row in table if "superior" in row)
    assert [drawn.index("|"), drawn.rindex("|")] == [superior.index("white"), superior.rindex("white")]
    assert "Posterior superior tied to posterior inferior" in text


def test_steps_in_order_and_what_was_not_done_set_apart() -> None:
    text = shown(whole_case().record())
    steps, rest = text.split("STEPS, IN THE ORDER TOLD")[1].split("SPOKEN OF, NOT DONE")
    assert steps.index("rim abrasion") < steps.index("graft cut (oblique cut)") and "trimming" not in steps
    assert "graft trimming: not done" in rest


def test_findings_by_compartment() -> None:
    text = shown(whole_case().record()).split("FINDINGS")[1]
    assert line(text, "Outerbridge grade 3").split()[0] == "medial"
    assert "no loose body" in text and "ACL: intact" in text


def test_the_rest_is_there() -> None:
    text = shown(whole_case().record())
    for part in ("cannula 8 mm", "identifier Z9901", "toe touch", "0 to 90 degrees", "General.", '"interior"', CAUTION):
        assert part in text


def test_a_rejected_fact_is_left_out() -> None:
    assert "Z9901" not in shown(whole_case().record(rejected=("g1",)))


def test_without_sound_the_words_stand_for_the_second() -> None:
    text = shown(whole_case(sound=False).record())
    assert '"nineteen"' in line(text, "length of the defect") and "1:10" not in text


@pytest.mark.parametrize("width", [80, 92, 104, 120])
def test_no_line_is_longer_than_the_terminal_and_nothing_is_color_alone(width: int) -> None:
    text = shown(whole_case().record(("value-conflict", "stop", ("m1",))), width)
    assert "\x1b" not in text
    assert max(map(len, text.splitlines())) <= width
    assert "…" not in text, "something was cut off"


def test_a_note_about_nothing_we_know_says_so() -> None:
    assert "Nothing about work" in shown(Said().record())
