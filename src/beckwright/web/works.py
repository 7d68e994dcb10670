"""The slower answers as JSON: what follows from a design once its levels stand."""

from collections.abc import Mapping
from typing import Any

from beckwright.base import words
from beckwright.base.figures import Figure
from beckwright.figures import figures_of_works
from beckwright.film.joined import TOLD_BETTER
from beckwright.stages.setting_out.values import Dug, Peg, SidePeg
from beckwright.web.answers import Words, answer
from beckwright.web.desk import Laid
from beckwright.web.state import Told, finding_told, rounded


def works_told(laid: Laid, *, revision: Any) -> Told:
    """Findings and answers the design itself cannot know.

    ``findings`` come beside those of the state; ``in_place_of`` are codes of the state's that they better.
    """
    currency = laid.design.job.prices.currency
    asked = _asked(currency)
    return {
        "revision": revision,
        "findings": [finding_told(finding) for finding in laid.findings()],
        "in_place_of": sorted(TOLD_BETTER),
        "answers": [
            answer(figure, asked[figure.name]) for figure in figures_of_works(laid.works) if figure.name in asked
        ],
    }


def pegs_told(laid: Laid, *, revision: Any) -> Told:
    """The pegs in order downstream: where each stands, its nail, and what is dug below it."""
    return {
        "revision": revision,
        "title": laid.design.job.title.name,
        "pegs": [_peg(peg) for peg in laid.works.setting_out.pegs],
    }


def _asked(currency: str) -> Mapping[str, Words]:
    def money(figure: Figure) -> str:
        return words.band(figure.low, figure.high, 100, currency)

    return {
        "earthworks.balance.topsoil.left": _cubic,
        "earthworks.balance.subsoil.left": _cubic,
        "stonework.total": lambda figure: words.band(figure.low, figure.high, 0.5, "t", scale=1e-3),
        "crates.count": lambda figure: words.grouped(figure.amount),
        "programme.days_80": lambda figure: words.band(figure.low, figure.high, 1, "days"),
        "money.p50": money,
        "money.p80": money,
    }


def _cubic(figure: Figure) -> str:
    return words.band(figure.low, figure.high, 0.5, "m³")


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
