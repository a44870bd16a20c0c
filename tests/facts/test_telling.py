"""The place of a step that is told ahead, in passing, or more than once. Sentences are worded for these tests."""

from __future__ import annotations

import pytest

from .reading import facts


def told(text: str) -> list[str]:
    """Performed steps by their order."""
    done = [f for f in facts(text, "steps") if f["status"] == "performed"]
    return [f["code"] for f in sorted(done, key=lambda f: f["order"])]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # named under a heading, or before anything is set up: the narrative counts
        (
            "Procedure: Left knee synovectomy.\nTechnique: The knee was prepped. Portals were made. "
            "The synovium was shaved. The joint was irrigated.",
            ["prep-and-drape", "portal-placement", "synovectomy", "irrigation"],
        ),
        (
            "We did a chondroplasty of the knee today. The knee was prepped. Portals were made. "
            "The cartilage was shaved. The portals were closed.",
            ["prep-and-drape", "portal-placement", "chondroplasty", "closure"],
        ),
        # named only there: after the setting up
        (
            "Left knee, diagnostic arthroscopy. The knee was prepped. Portals were made. The portals were closed.",
            ["prep-and-drape", "portal-placement", "diagnostic-arthroscopy", "closure"],
        ),
        # told several times
        (
            "Portals in the knee were made. The meniscus tear was probed. Three all-inside stitches. "
            "The meniscus repair was probed. The portals were closed.",
            ["portal-placement", "all-inside-stitch", "stability-probing", "closure"],
        ),
        (
            "Knee ACL reconstruction. The hamstring tendons were harvested and that wound closed. Portals were made. "
            "Diagnostic arthroscopy was done. The portals were closed.",
            ["graft-harvest", "portal-placement", "diagnostic-arthroscopy", "closure"],
        ),
        # told in one breath
        (
            "Knee ACL reconstruction. The tibial and femoral tunnels were drilled.",
            ["tibial-tunnel-drilling", "femoral-tunnel-drilling"],
        ),
        (
            "Knee ACL reconstruction. The femoral and tibial tunnels were drilled.",
            ["femoral-tunnel-drilling", "tibial-tunnel-drilling"],
        ),
        # told from behind
        (
            "Knee. Portals were made. The joint was irrigated after the synovium was shaved.",
            ["portal-placement", "synovectomy", "irrigation"],
        ),
        (
            "Knee. Portals were made. Before the joint was irrigated, the synovium was shaved.",
            ["portal-placement", "synovectomy", "irrigation"],
        ),
        (
            "The knee was prepped. Portals were made. Prior to this, the tourniquet was inflated.",
            ["prep-and-drape", "tourniquet-inflation", "portal-placement"],
        ),
        (
            "The knee was prepped. Two portals were made; however, prior to this, the tourniquet was inflated.",
            ["prep-and-drape", "tourniquet-inflation", "portal-placement"],
        ),
        (
            "The knee was prepped. Two portals were made, but before this, the tourniquet was inflated.",
            ["prep-and-drape", "tourniquet-inflation", "portal-placement"],
        ),
    ],
)
def test_steps_stand_in_the_order_in_which_they_were_done(text: str, expected: list[str]) -> None:
    assert told(text) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Knee. Portals were made. After that the synovium was shaved.", ["portal-placement", "synovectomy"]),
        ("Knee. The joint was irrigated. The synovium was shaved.", ["irrigation", "synovectomy"]),
    ],
)
def test_what_is_told_once_and_plainly_stays_where_it_is_told(text: str, expected: list[str]) -> None:
    assert told(text) == expected
