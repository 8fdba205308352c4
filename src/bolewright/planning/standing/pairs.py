"""Every part and target the assessor rated, through the two published tables; the worst of them named."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bolewright.job.standing import Left, Option, Pair, Rating
from bolewright.planning.standing.rated import PairRated
from bolewright.reference.ratings import RISK, combined_likelihood, risk


def through_tables(failure: str | None, impact: str | None, consequences: str | None) -> tuple[str | None, str | None]:
    """The assessor's words through the two published tables; None where one of them is missing."""
    if failure is None or impact is None:
        return None, None
    combined = combined_likelihood(failure, impact)
    return combined, None if consequences is None else risk(combined, consequences)


def pairs_rated(rating: Rating) -> tuple[PairRated, ...]:
    """Every pair as rated now: that of [rating] itself first, where anything of it was written down."""
    own = (rating.part, rating.target, rating.failure, rating.impact, rating.consequences)
    first = [_rated("", rating.part, rating.target, rating, rating.why)] if any(own) else []
    return _marked([*first, *(_rated(pair.id, pair.part, pair.target, pair, pair.why) for pair in rating.pair)])


def pairs_left(rating: Rating, option: Option) -> tuple[PairRated, ...]:
    """Every pair as rated for what an option leaves; nothing chosen where it was not said."""
    told = {left.pair: left for left in rating.left if left.option == option.id}
    found = []
    for pair in pairs_rated(rating):
        chosen: Option | Left | None = told.get(pair.id) if pair.id else option
        found.append(_rated(pair.id, pair.part, pair.target, chosen, ""))
    return _marked(found)


def worst_of(pairs: Sequence[PairRated]) -> str | None:
    """The worst rating among pairs; None where none has one."""
    rated = [pair.rating for pair in pairs if pair.rating is not None]
    return max(rated, key=RISK.index) if rated else None


def _rated(
    name: str, part: str | None, target: str | None, chosen: Rating | Pair | Option | Left | None, why: str | None
) -> PairRated:
    words = (None, None, None) if chosen is None else (chosen.failure, chosen.impact, chosen.consequences)
    combined, rated = through_tables(*words)
    return PairRated(name, part or "", target or "", *words, combined, rated, False, why or "")


def _marked(pairs: Sequence[PairRated]) -> tuple[PairRated, ...]:
    """With those of the worst rating marked."""
    worst = worst_of(pairs)
    return tuple(replace(pair, worst=worst is not None and pair.rating == worst) for pair in pairs)
