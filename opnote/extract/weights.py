"""How much each kind of evidence counts when the linker ties a quantity to an attribute."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Weights:
    """The weights of the linker's score, found by hand on annotated dictations.

    ``python -m tests.benchmarks.weights`` shows how the repository's dictations fare when each is halved or doubled.

    Cue words, in the order of an attribute's own entry in the table:

    cue                a cue word right beside the quantity ("ten millimetres deep")
    cue_step           less by this for each word between them; an attribute with a long reach loses less
    comma              less by this for a comma or an "and" between them, by twice as much for a "then"
    other_quantity     less by this for each other quantity between them
    long_cue           more by this for each further word of the cue ("strands of gracilis" tells more than "strands")
    carried            less by this for a cue at the end of the statement before ("Tunnel depth?" - "Twenty-five.")
    never              a word right beside the quantity that makes it something else
    never_step         of that, the share that each word between them takes off
    never_apart        of that, the share that is left behind a comma, an "and" or a "then"
    trusted            of that, the share that is left beside a cue right at hand, and beside a pair

    The thing that the attribute belongs to:

    anchor             a word that brings it up, right beside the quantity
    anchor_step        less by this for each word between them, but never less than ``anchor_least``
    anchor_least       a word that brings it up anywhere in the statement
    topic              not brought up here, but in the statement before
    lately             brought up some statements ago, if it lingers
    absent             not brought up at all
    case               the case, which is always under discussion
    mode               the statement holds a fixation, or tests a ligament, and the thing is of that sort; taken off if of the other
    section            the statement stands where the thing is hardly worked on

    The quantity itself:

    usual              within the usual range of the attribute
    outside            a bare number outside even the hard range: it is likely something else
    outside_with_unit  the same with its unit: a slip, which stays as said
    bare               no unit is said
    telling            a kind of quantity that few attributes take (a force, a grade)
    counted            a whole number before a plural counts, before a singular it does not
    shape              two numbers in the proportions of a screw ("nine by thirty")

    And what it takes to win:

    enough             the least score
    margin             the least lead over the next best
    """

    cue: float = 2.0
    cue_step: float = 0.22
    comma: float = 0.35
    other_quantity: float = 0.7
    long_cue: float = 0.15
    carried: float = 0.5
    never: float = -2.2
    never_step: float = 0.15
    never_apart: float = 0.2
    trusted: float = 0.4
    anchor: float = 1.0
    anchor_step: float = 0.07
    anchor_least: float = 0.2
    topic: float = 0.35
    lately: float = 0.1
    absent: float = -1.2
    case: float = 0.3
    mode: float = 0.7
    section: float = -1.5
    usual: float = 0.4
    outside: float = -1.6
    outside_with_unit: float = -1.0
    bare: float = -0.5
    telling: float = 0.5
    counted: float = 0.8
    shape: float = 0.9
    enough: float = 1.15
    margin: float = 0.2
