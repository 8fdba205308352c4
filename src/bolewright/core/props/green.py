"""Strengths to design with for round wood cut from the tree itself, out of the green strength of its species."""

from __future__ import annotations

from bolewright.core.base.errors import BadInput
from bolewright.core.base.sourced import Status
from bolewright.core.props.timber import Strengths

_LOW_TAIL = 1.645  # one piece in twenty is weaker
_SPREAD = {"bending": 0.16, "compression": 0.18, "shear": 0.14}  # between pieces, Wood Handbook 2010, ch. 5
_SPREAD_MODULUS = 0.25  # visually graded, NDS 2018 Appendix F
_KNOTS = {"bending": 0.30, "compression": 0.50, "shear": 0.50}  # what knots, slope of grain and splits leave
_TIME_AND_MARGIN = {  # hardwood or not
    False: {"bending": 2.1, "compression": 1.9, "shear": 2.1},
    True: {"bending": 2.3, "compression": 2.1, "shear": 2.3},
}
_MODULUS_QUALITY = 0.94 * 0.90
SOURCE = "clear-wood strength reduced after ASTM D245 and D2555 (factors from memory)"


def buckling_modulus(modulus: float) -> float:
    """The stiffness used for buckling, from the average stiffness of a visually graded stick [Pa].

    Picture: one stick in twenty is much less stiff than the average, and a margin of 1.66 is taken on that one.

    Source: NDS 2018 Appendix D and F: E [1 - 1.645 COV] 1.03 / 1.66 with COV 0.25 (from memory).
    Checked by: tests/handbook/test_columns.py (the confirmed lumber rows of NDS Supplement Table 4A)
    """
    return modulus * (1.0 - _LOW_TAIL * _SPREAD_MODULUS) * 1.03 / 1.66


def green_round_strengths(
    crushing: float, rupture: float, modulus: float, shear: float, cross_grain: float, hardwood: bool
) -> Strengths:
    """Allowable stresses for a post of green round wood, low grade taken [Pa].

    Picture: small clear green specimens are the best the wood can do. From their average one piece in twenty is
    taken, then time under load and a margin (1.9 to 2.3), then half of that for knots, sweep and season splits.
    Errs low for a straight sound stick; errs high for one with decay, a bad crook or a big knot whorl: throw
    those out by eye.

    Parameters (all Pa, average green clear wood): crushing along the grain, modulus of rupture, modulus of
    elasticity, shear; `cross_grain` is the wet design bearing value, not the specimen value.
    Raises: BadInput when a value is not above zero.
    Source: ASTM D245 and D2555 (factors from memory); spreads from the Wood Handbook (2010) ch. 5.
    Checked by: tests/handbook/test_columns.py (Douglas-fir against NDS Supplement Table 4D No.2)
    """
    if min(crushing, rupture, modulus, shear, cross_grain) <= 0.0:
        raise BadInput("A green strength of this species is missing, so round wood from it cannot be rated as a post.")
    stiffness = modulus * _MODULUS_QUALITY

    def design(kind: str, average: float) -> float:
        weak_piece = average * (1.0 - _LOW_TAIL * _SPREAD[kind])
        return weak_piece * _KNOTS[kind] / _TIME_AND_MARGIN[hardwood][kind]

    bending = design("bending", rupture)
    return Strengths(
        bending=bending,
        tension=0.55 * bending,  # ASTM D245 takes tension as 0.55 of bending; not used by any check here
        shear=design("shear", shear),
        cross_grain=cross_grain,
        compression=design("compression", crushing),
        modulus=stiffness,
        modulus_min=buckling_modulus(stiffness),
        source=SOURCE,
        status=Status.MEMORY,
    )
