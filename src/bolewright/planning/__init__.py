"""Use cases: a job and the reference tables go in, what the crew needs to know comes out."""

from bolewright.planning.haul.out import out
from bolewright.planning.holding.hold import hold
from bolewright.planning.order.cuts import cuts
from bolewright.planning.scene import scene
from bolewright.planning.standing.stand import stand
from bolewright.planning.weigh import weigh

__all__ = ["cuts", "hold", "out", "scene", "stand", "weigh"]
