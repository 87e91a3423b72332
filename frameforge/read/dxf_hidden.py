"""What a drawing program does not show of a DXF."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

__all__ = ["Hidden"]


@dataclass(frozen=True, slots=True)
class Hidden:
    """Layers, by their names in small letters, that are frozen, and those that are switched off."""

    frozen: frozenset[str]
    off: frozenset[str]

    @classmethod
    def in_document(cls, document: Any) -> Hidden:
        """Return the hidden layers of an ezdxf document."""
        layers = list(document.layers)
        return cls(
            frozenset(layer.dxf.name.casefold() for layer in layers if layer.is_frozen()),
            frozenset(layer.dxf.name.casefold() for layer in layers if layer.is_off()),
        )

    def holds(self, entity: Any) -> bool:
        """Whether an entity is not seen. A block that is placed on a layer switched off still shows what stands on
        other layers; on a frozen one it does not (DXF reference, LAYER, group codes 62 and 70)."""
        layer = entity.dxf.get("layer", "0").casefold()
        is_off = layer in self.off and entity.dxftype() != "INSERT"
        return is_off or layer in self.frozen or bool(entity.dxf.get("invisible", 0))
