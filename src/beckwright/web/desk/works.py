"""The slower answers as JSON: what follows from a design once its levels stand."""

from typing import Any

from beckwright.base.words import units_told
from beckwright.figures.answers import later_answers_of
from beckwright.film.joined import TOLD_BETTER
from beckwright.stages.setting_out.values import Dug, Peg, SidePeg
from beckwright.web.desk.answers import answer
from beckwright.web.desk.opened import Laid
from beckwright.web.desk.state import Told, finding_told, rounded


def works_told(laid: Laid, *, revision: Any) -> Told:
    """Findings and answers of the works: digging, lining, stone, programme, money. Findings come beside the state's."""
    return {
        "revision": revision,
        "findings": [finding_told(finding) for finding in laid.works.findings],
        "answers": [answer(each) for each in later_answers_of(laid.works)],
    }


def films_told(laid: Laid, *, revision: Any) -> Told:
    """Findings of the films, which take longest; ``in_place_of`` are codes of the state's findings that they better."""
    return {
        "revision": revision,
        "findings": [finding_told(finding) for finding in laid.film_findings()],
        "in_place_of": sorted(TOLD_BETTER),
    }


def pegs_told(laid: Laid, *, revision: Any) -> Told:
    """The pegs in order downstream: where each stands, its nail, and what is dug below it."""
    return {
        "revision": revision,
        "title": laid.design.job.title.name,
        "units_told": units_told(),
        "pegs": [_peg(peg) for peg in laid.works.setting_out.pegs],
    }


def _peg(peg: Peg) -> Told:
    return {
        "number": peg.number,
        "chainage": rounded(peg.chainage),
        "places": list(peg.places),
        "x": rounded(peg.spot.at[0]),
        "y": rounded(peg.spot.at[1]),
        "nail": rounded(peg.nail),
        "left": _side(peg.left),
        "right": _side(peg.right),
        "dug": [_dug(dug) for dug in peg.dug],
        "lip": None if peg.lip is None else rounded(peg.lip),
        "lip_below": None if peg.lip_below is None else rounded(peg.lip_below),
        "by_hand": list(peg.by_hand),
        "to_next": None if peg.to_next is None else rounded(peg.to_next),
    }


def _side(side: SidePeg) -> Told:
    return {
        "x": rounded(side.spot.at[0]),
        "y": rounded(side.spot.at[1]),
        "offset": rounded(side.offset),
        "out": rounded(side.out),
        "clear": side.clear,
    }


def _dug(dug: Dug) -> Told:
    return {
        "side": dug.side,
        "ground": rounded(dug.ground),
        "dig": rounded(dug.dig),
        "below": rounded(dug.below),
        "lift": rounded(dug.lift),
        "floor": [rounded(each) for each in dug.floor],
        "edges": [rounded(each) for each in dug.edges],
        "edge_levels": [rounded(each) for each in dug.edge_levels],
        "edges_below": [rounded(each) for each in dug.edges_below],
    }
