"""The JSON Schema of a build file, for editors: generated from the tables, and brought down to what TOML can hold."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel
from pydantic.json_schema import GenerateJsonSchema

from tunwright.build.fields import AS_TABLE
from tunwright.build.units import Quantity


class _Schema(GenerateJsonSchema):
    """Defaults as they would be typed."""

    def encode_default(self, dft: Any) -> Any:
        """A quantity by its text, a table by the keys that are set."""
        if isinstance(dft, Quantity):
            return dft.text
        if isinstance(dft, BaseModel):
            return {name: self.encode_default(getattr(dft, name)) for name in sorted(dft.model_fields_set)}
        return super().encode_default(dft)


def schema_of(model: type[BaseModel]) -> dict[str, Any]:
    """JSON Schema of a document.

    model: its outermost table
    """
    made = _tidied(model.model_json_schema(by_alias=True, schema_generator=_Schema))
    made["$defs"] = {**made.get("$defs", {}), **{name: {"anyOf": forms} for name, forms in AS_TABLE.items()}}
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **made, "title": "Tunwright build file"}


def _tidied(node: Any) -> Any:
    """A schema without null, which TOML has not, without generated titles, the forms of a quantity said once."""
    if isinstance(node, list):
        return [_tidied(one) for one in node]
    if not isinstance(node, dict):
        return node
    kept = {
        k: v
        for k, v in node.items()
        if not (k == "title" and isinstance(v, str)) and not (k == "default" and v is None)
    }
    forms = kept.get("anyOf")
    if isinstance(forms, list) and {"type": "null"} in forms:
        (other,) = [one for one in forms if one != {"type": "null"}] if len(forms) == 2 else [{"anyOf": forms[:-1]}]
        kept = {**other, **{k: v for k, v in kept.items() if k != "anyOf"}}
    for name, whole in AS_TABLE.items():
        if kept.get("anyOf") == whole:
            kept = {"$ref": f"#/$defs/{name}", **{k: v for k, v in kept.items() if k != "anyOf"}}
    return {k: _tidied(v) for k, v in kept.items()}
