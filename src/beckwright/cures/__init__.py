"""Cures: what would take a finding away, as edits of job.toml that were tried, and what else they change."""

from beckwright.cures.bench import Bench
from beckwright.cures.effect import Changed, Effect, effect
from beckwright.cures.look import Look
from beckwright.cures.propose import findings_of, proposals
from beckwright.cures.reasons import REASONS
from beckwright.cures.rules import RULES
from beckwright.cures.values import Proposal

__all__ = ["REASONS", "RULES", "Bench", "Changed", "Effect", "Look", "Proposal", "effect", "findings_of", "proposals"]
