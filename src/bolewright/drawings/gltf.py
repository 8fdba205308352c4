"""A writer of glTF 2.0 binary files (ISO/IEC 12113:2022): triangles, plain materials, named nodes, several scenes.

The same content gives the same bytes. Points come in the job frame (x forward, y left, z up) and leave in glTF's own
(x forward, y up, z to the right), in metres.
"""

from __future__ import annotations

import json
import struct
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
MAGIC, VERSION, JSON_CHUNK, BINARY_CHUNK = 0x46546C67, 2, 0x4E4F534A, 0x004E4942
FLOAT, SHORT, INTEGER = 5126, 5123, 5125
VERTICES, TRIANGLES = 34962, 34963  # what a buffer view is for


@dataclass(frozen=True)
class Mesh:
    """Triangles: points (n, 3) and outward normals (n, 3) in the job frame, corners (t, 3) of each triangle, anti-
    clockwise seen from outside."""

    points: Floats
    normals: Floats
    corners: NDArray[np.int64]


def turned(vectors: ArrayLike) -> Floats:
    """Vectors (..., 3) of the job frame in glTF's axes."""
    v = np.asarray(vectors, dtype=float)
    return np.stack([v[..., 0], v[..., 2], -v[..., 1]], axis=-1)


@dataclass
class File:
    """A glTF file as it is put together."""

    title: str
    materials: list[dict[str, Any]] = field(default_factory=list)
    meshes: list[dict[str, Any]] = field(default_factory=list)
    nodes: list[dict[str, Any]] = field(default_factory=list)
    scenes: list[dict[str, Any]] = field(default_factory=list)
    _accessors: list[dict[str, Any]] = field(default_factory=list)
    _views: list[dict[str, Any]] = field(default_factory=list)
    _bytes: bytearray = field(default_factory=bytearray)

    def material(self, name: str, colour: str, opacity: float = 1.0, both_sides: bool = False) -> int:
        """A dull material of a "#rrggbb" colour."""
        made: dict[str, Any] = {
            "name": name,
            "pbrMetallicRoughness": {
                "baseColorFactor": [*_linear(colour), opacity], "metallicFactor": 0.0, "roughnessFactor": 1.0,
            },
        }  # fmt: skip
        if opacity < 1.0:
            made["alphaMode"] = "BLEND"
        if both_sides:
            made["doubleSided"] = True
        self.materials.append(made)
        return len(self.materials) - 1

    def mesh(self, name: str, parts: Sequence[tuple[Mesh, int]]) -> int:
        """A mesh of parts, each with its material."""
        self.meshes.append({"name": name, "primitives": [self._part(mesh, material) for mesh, material in parts]})
        return len(self.meshes) - 1

    def node(self, name: str, mesh: int, extras: Mapping[str, Any], at: ArrayLike = (0.0, 0.0, 0.0),
             turn: Sequence[float] | None = None, size: float = 1.0) -> int:  # fmt: skip
        """A named thing with facts of its own: a mesh put at a point (3,) of the job frame, turned by a quaternion
        (x, y, z, w in glTF's axes) and sized."""
        made: dict[str, Any] = {"name": name, "mesh": mesh, "extras": dict(extras)}
        where = [_short(x) for x in turned(at)]
        if any(where):
            made["translation"] = where
        if turn is not None:
            made["rotation"] = [_short(x) for x in turn]
        if size != 1.0:
            made["scale"] = [_short(size)] * 3
        self.nodes.append(made)
        return len(self.nodes) - 1

    def scene(self, name: str, nodes: Sequence[int], extras: Mapping[str, Any]) -> None:
        """A scene of some of the nodes; the first one is what a reader shows."""
        self.scenes.append({"name": name, "nodes": list(nodes), "extras": dict(extras)})

    def written(self) -> bytes:
        """The file."""
        content = {
            "asset": {"version": "2.0", "generator": "Bolewright", "extras": {"title": self.title}},
            "scene": 0, "scenes": self.scenes, "nodes": self.nodes, "meshes": self.meshes,
            "materials": self.materials, "accessors": self._accessors, "bufferViews": self._views,
            "buffers": [{"byteLength": len(self._bytes)}],
        }  # fmt: skip
        text = json.dumps(content, ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode()
        return _wrapped(text, bytes(self._bytes))

    def _part(self, mesh: Mesh, material: int) -> dict[str, Any]:
        points, normals = (turned(x).astype("<f4") for x in (mesh.points, mesh.normals))
        limits = {"min": points.min(axis=0).tolist(), "max": points.max(axis=0).tolist()}
        small = len(points) < 65535  # the largest number is kept for restarting a strip
        corners = mesh.corners.ravel().astype("<u2" if small else "<u4")
        return {
            "attributes": {
                "POSITION": self._kept(points, FLOAT, "VEC3", VERTICES, limits),
                "NORMAL": self._kept(normals, FLOAT, "VEC3", VERTICES),
            },
            "indices": self._kept(corners, SHORT if small else INTEGER, "SCALAR", TRIANGLES),
            "material": material,
        }

    def _kept(
        self, values: NDArray[Any], kind: int, shape: str, what: int, more: Mapping[str, Any] | None = None
    ) -> int:
        """Put numbers into the buffer; gives back the accessor that finds them."""
        self._bytes.extend(b"\0" * (-len(self._bytes) % 4))
        self._views.append({"buffer": 0, "byteOffset": len(self._bytes), "byteLength": values.nbytes, "target": what})
        self._bytes.extend(values.tobytes())
        accessor = {"bufferView": len(self._views) - 1, "componentType": kind, "count": len(values), "type": shape}
        self._accessors.append({**accessor, **(more or {})})
        return len(self._accessors) - 1


def _wrapped(text: bytes, binary: bytes) -> bytes:
    """Header and the two chunks, each filled up to whole words."""
    text += b" " * (-len(text) % 4)
    binary += b"\0" * (-len(binary) % 4)
    size = 12 + 8 + len(text) + 8 + len(binary)
    head = struct.pack("<III", MAGIC, VERSION, size)
    return b"".join((head, struct.pack("<II", len(text), JSON_CHUNK), text,
                     struct.pack("<II", len(binary), BINARY_CHUNK), binary))  # fmt: skip


def _linear(colour: str) -> list[float]:
    """A screen colour as the linear numbers glTF asks for (IEC 61966-2-1)."""
    parts = [int(colour[i : i + 2], 16) / 255.0 for i in (1, 3, 5)]
    return [round(c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4, 5) for c in parts]


def _short(value: float) -> float:
    """Rounded so that the last bits of a processor do not show; never minus zero."""
    return round(float(value), 6) + 0.0
