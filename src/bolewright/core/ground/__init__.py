"""Ground: wheels, boards, bearing, ruts, the route out and the loads away."""
