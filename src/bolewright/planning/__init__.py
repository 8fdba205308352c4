"""Use cases: a job and the reference tables go in, what the crew needs to know comes out."""

from bolewright.planning.cuts import cuts
from bolewright.planning.hold import hold
from bolewright.planning.out import out
from bolewright.planning.scene import scene
from bolewright.planning.stand import stand
from bolewright.planning.weigh import weigh

__all__ = ["cuts", "hold", "out", "scene", "stand", "weigh"]
