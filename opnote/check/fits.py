"""Fits: screw, socket and graft against one another."""

from __future__ import annotations

from collections.abc import Iterator

from opnote.check.knowledge import Knowledge
from opnote.check.model import Doubt, check
from opnote.check.plausibility import impossible
from opnote.check.profiles import texts
from opnote.check.reading import about, evidence, exact, graft_of, in_place, same_place, spread, structures, word
from opnote.check.wording import amount, cited, thing
from opnote.record.model import Entity, Record


def _screws(record: Record, known: Knowledge, name: str, of_tunnel: str) -> Iterator[tuple[Entity, Entity]]:
    """Interference screws with the one tunnel they sit in, where both numbers were said and neither is impossible by itself."""
    for screw in record.of("implant"):
        if word(screw, "kind") != "interference screw" or not in_place(screw):
            continue
        tunnel = same_place(record, screw, "tunnel")
        if tunnel and not impossible(known, screw, name) and not impossible(known, tunnel, of_tunnel):
            yield screw, tunnel


@check(
    "FIT01",
    "screw-longer-than-its-socket",
    severity="stop",
    kind="conflict",
    source="common practice: a screw is no longer than its socket; 2 mm are allowed for measuring",
)
def screw_longer_than_socket(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """An interference screw is longer than the socket it sits in.

    Why: it would stand proud of the bone or not be seated; one of the two numbers is a slip.

    Silent when: the screw did not stay in; several tunnels could be meant; either length is not settled, or impossible by itself
    (RANGE01 asks then); the excess is within what measuring allows.
    """
    for screw, tunnel in _screws(record, known, "length_mm", "depth_mm"):
        length, depth = spread(screw, "length_mm"), spread(tunnel, "depth_mm")
        if length is None or depth is None or length.low - depth.high <= known.limits["screw-over-socket"].high:
            continue
        yield Doubt(
            f"The {thing(screw)} ({cited(screw, 'length_mm')}) is longer than its socket, {amount(tunnel, 'depth_mm')} deep "
            f"({cited(tunnel, 'depth_mm')}). Which number is right?",
            (*about(screw, "length_mm"), *about(tunnel, "depth_mm")),
            evidence(screw, "length_mm") + evidence(tunnel, "depth_mm"),
        )


@check(
    "FIT02",
    "screw-much-shorter-than-its-socket",
    severity="info",
    kind="implausible",
    source="common practice; a deep femoral socket that leaves room for the graft's length is chosen on purpose",
)
def screw_much_shorter(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """An interference screw is much shorter than the socket it sits in.

    Why: worth a look, no more: a socket deeper than the graft reaches is a usual choice.

    Silent when: the tunnel goes through both cortices; several tunnels could be meant; either length is not settled or impossible.
    """
    for screw, tunnel in _screws(record, known, "length_mm", "depth_mm"):
        length, depth = spread(screw, "length_mm"), spread(tunnel, "depth_mm")
        if length is None or depth is None or word(tunnel, "cortices") == "bicortical":
            continue
        if length.high < known.limits["screw-share-of-socket"].low * depth.low:
            yield Doubt(
                f"The {thing(screw)} ({cited(screw, 'length_mm')}) is much shorter than its socket, {amount(tunnel, 'depth_mm')} "
                f"deep ({cited(tunnel, 'depth_mm')}). Are both numbers right?",
                (*about(screw, "length_mm"), *about(tunnel, "depth_mm")),
                evidence(screw, "length_mm") + evidence(tunnel, "depth_mm"),
            )


@check(
    "FIT03",
    "screw-does-not-fit-its-tunnel",
    severity="stop",
    kind="conflict",
    source="common practice; 9 and 10 mm screws tested in an 8 mm tunnel: Herrera 2010 BMC Musculoskelet Disord",
)
def screw_does_not_fit(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """An interference screw's diameter cannot hold a soft-tissue graft in its tunnel.

    Why: far too thin it holds nothing, far too thick it cannot be driven in; one of the two diameters is a slip.

    Silent when: the graft has a bone plug, may have one, or is unknown (a thin screw beside a plug is right); several tunnels or
    grafts could be meant; a diameter is not settled.
    """
    limit, soft = known.limits["screw-over-tunnel"], known.members("soft-tissues")
    for screw, tunnel in _screws(record, known, "diameter_mm", "diameter_mm"):
        graft = graft_of(record, screw)
        thick, wide = exact(screw, "diameter_mm"), exact(tunnel, "diameter_mm")
        if graft is None or not texts(graft, "tissue") or not texts(graft, "tissue") <= soft or thick is None or wide is None:
            continue
        if not limit.low <= thick - wide <= limit.high:
            yield Doubt(
                f"The {thing(screw)} ({cited(screw, 'diameter_mm')}) does not fit its tunnel of {amount(tunnel, 'diameter_mm')} "
                f"({cited(tunnel, 'diameter_mm')}). Which diameter is right?",
                (*about(screw, "diameter_mm"), *about(tunnel, "diameter_mm")),
                evidence(screw, "diameter_mm") + evidence(tunnel, "diameter_mm"),
            )


@check(
    "FIT04",
    "tunnel-does-not-fit-its-graft",
    severity="stop",
    kind="conflict",
    source="common practice: a tunnel is reamed to the graft's diameter or half a millimetre more",
)
def tunnel_does_not_fit(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A tunnel is narrower than its graft, or much wider.

    Why: the graft would not pass, or not heal; one of the two diameters is a slip.

    Silent when: several grafts or tunnels could be meant; a limb of the graft goes there alone (list ``single-limb-tunnels``); a
    diameter is not settled, or impossible by itself; the difference is small.
    """
    limit, single = known.limits["tunnel-over-graft"], known.members("single-limb-tunnels")
    for tunnel in record.of("tunnel"):
        graft, bone = graft_of(record, tunnel), word(tunnel, "bone")
        if graft is None or bone is None or any(f"{name} {bone}" in single for name in structures(tunnel)):
            continue
        thick, wide = exact(graft, "diameter_mm"), exact(tunnel, "diameter_mm")
        if thick is None or wide is None or impossible(known, graft, "diameter_mm") or impossible(known, tunnel, "diameter_mm"):
            continue
        if not limit.low <= wide - thick <= limit.high:
            yield Doubt(
                f"The {thing(tunnel)} is {amount(tunnel, 'diameter_mm')} wide ({cited(tunnel, 'diameter_mm')}) and its graft "
                f"{amount(graft, 'diameter_mm')} ({cited(graft, 'diameter_mm')}). Which diameter is right?",
                (*about(tunnel, "diameter_mm"), *about(graft, "diameter_mm")),
                evidence(tunnel, "diameter_mm") + evidence(graft, "diameter_mm"),
            )
