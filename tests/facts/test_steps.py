"""Steps: performed, declined, conditional, considered, a habit, another time (contract, section 5)."""

from __future__ import annotations

import pytest

from .reading import drafts, facts, steps


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("The meniscal rim was abraded with a rasp.", "rim-abrasion"),
        ("Then I rasp the meniscal rim until it bleeds.", "rim-abrasion"),
        ("The meniscal rim was trephined with a needle.", "trephination"),
        ("The meniscus tear was reduced with a probe.", "tear-reduction"),
        ("The meniscus graft was thawed in saline.", "graft-thaw"),
        ("The meniscus graft was trimmed.", "graft-trimming"),
        ("The meniscus was probed and was stable.", "stability-probing"),
        ("The knee was prepped and draped.", "prep-and-drape"),
        ("The tourniquet on the knee was inflated.", "tourniquet-inflation"),
        ("Anterolateral and anteromedial portals of the knee were made.", "portal-placement"),
        ("The knee was taken through a range of motion.", "range-of-motion-check"),
        ("The knee portals were closed.", "closure"),
        ("A dressing was applied to the knee.", "dressing"),
        ("The knee was put in a brace.", "brace-application"),
        ("A time out was done for the knee.", "time-out"),
        ("ACL reconstruction. The femoral tunnel was drilled.", "femoral-tunnel-drilling"),
        # a question and its answer
        ("Is the meniscus graft thawed? It is.", "graft-thaw"),
        # denied trouble is no denial
        ("The meniscus graft was trimmed without difficulty.", "graft-trimming"),
        ("Not only was the meniscal rim rasped, it was trephined.", "trephination"),
    ],
)
def test_performed(text: str, code: str) -> None:
    assert steps(text).get(code) == "performed"


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("The meniscal rim was not abraded.", "rim-abrasion"),
        ("The meniscal rim wasn't abraded.", "rim-abrasion"),
        ("Meniscus graft: I did not need to trim it.", "graft-trimming"),
        ("Trimming of the meniscus graft was not necessary.", "graft-trimming"),
        ("Trim the meniscus graft? No.", "graft-trimming"),
        ("We thought about trimming the meniscus graft but did not.", "graft-trimming"),
        ("We thought about trimming the meniscus graft, but it was not needed.", "graft-trimming"),
        ("The meniscus was left without trephination.", "trephination"),
        ("Instead of trephination the meniscal rim was rasped.", "trephination"),
        ("Meniscus. Not done: trephination, graft trimming.", "trephination"),
        ("No trephination of the meniscus.", "trephination"),
        ("The meniscal rim was neither rasped nor trephined.", "trephination"),
        ("Trephination of the meniscus: no.", "trephination"),
        ("Not a shred of the torn meniscus was resected.", "partial-meniscectomy"),
    ],
)
def test_declined(text: str, code: str) -> None:
    assert steps(text).get(code) == "declined"


@pytest.mark.parametrize(
    ("text", "code", "status"),
    [
        ("If the meniscus graft is too big, we could trim it.", "graft-trimming", "conditional"),
        ("We might trim the meniscus graft.", "graft-trimming", "conditional"),
        ("The meniscus graft would be trimmed if it stood proud.", "graft-trimming", "conditional"),
        ("We considered trimming the meniscus graft.", "graft-trimming", "planned"),
        ("We discussed trephination of the meniscus.", "trephination", "planned"),
        ("I nearly trephined the meniscus, and left it.", "trephination", "planned"),
        ("I'd have trimmed the meniscus graft had it been bulky.", "graft-trimming", "conditional"),
        ("At the next visit we will trephine the meniscus.", "trephination", "planned"),
    ],
)
def test_only_thought_of(text: str, code: str, status: str) -> None:
    assert steps(text).get(code) == status


@pytest.mark.parametrize(
    "text",
    [
        "I usually rasp the rim of the meniscus.",
        "My habit is to rasp the meniscal rim.",
        "The meniscal rim was rasped previously, at another hospital.",
        "The meniscal rim had been rasped two years ago.",
    ],
)
def test_a_habit_or_another_time_is_no_step(text: str) -> None:
    assert "rim-abrasion" not in steps(text)


def test_a_had_cut_short_is_no_would() -> None:
    assert steps("We'd done the time-out, the meniscus was next.") == {"time-out": "performed"}


def test_what_stands_before_a_denial_is_not_denied() -> None:
    text = "The meniscal rim was rasped and not trephined."
    assert steps(text) == {"rim-abrasion": "performed", "trephination": "declined"}


def test_what_stands_after_a_denial_is_not_denied() -> None:
    text = "The meniscal rim was not trephined, but it was rasped."
    assert steps(text) == {"trephination": "declined", "rim-abrasion": "performed"}


def test_the_order_told() -> None:
    text = (
        "The knee was prepped and draped. The tourniquet was inflated. Portals were made. The meniscal rim was rasped."
    )
    assert [s["code"] for s in facts(text, "steps")] == [
        "prep-and-drape",
        "tourniquet-inflation",
        "portal-placement",
        "rim-abrasion",
    ]


def test_told_twice_is_one_step_with_more_evidence() -> None:
    (step,) = drafts("The meniscal rim was rasped. Again the meniscal rim was rasped.", "steps")
    assert len(step.spans) > 2


def test_a_step_that_only_a_measurement_tells() -> None:
    """Contract, section 8, rule 2: a size of the defect tells one, its distance to the root the other."""
    assert steps("The meniscal defect was twenty millimeters long.") == {"defect-measurement": "performed"}
    assert steps("The meniscal defect was 12 mm from the posterior root.") == {"root-distance-measurement": "performed"}


def test_a_size_of_the_graft_tells_no_measuring_of_the_defect() -> None:
    assert "defect-measurement" not in steps("The meniscal graft was cut 19 mm long.")


def test_resecting_a_remnant_for_a_graft_is_rim_preparation() -> None:
    """Contract, section 8, rule 11."""
    text = "Meniscal allograft transplantation. The remnant was trimmed back to a two millimeter rim."
    assert "rim-preparation" in steps(text)
    assert "partial-meniscectomy" not in steps(text)
