"""`python -m bolewright.web`: the field sheet on this machine."""

from __future__ import annotations

import sys

from bolewright.web.serve import main

sys.exit(main(sys.argv[1:]))
