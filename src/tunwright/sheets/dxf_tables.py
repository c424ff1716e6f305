"""The tables of a DXF file: layers, line types, text and dimension styles, units."""

from __future__ import annotations

import ezdxf
from ezdxf.document import Drawing as Document
from ezdxf.filemanagement import new

from tunwright.sheets.annotate import ARROW_MM, FOOT_MM, OVER_MM, TEXT_GAP_MM
from tunwright.sheets.drawing import TEXT_MM
from tunwright.sheets.layers import CHAIN, DASHED, DOTTED, LAYERS

STYLE, BOLD_STYLE, DIMENSION_STYLE = "LETTERING", "LETTERING_BOLD", "SHEET"
# no date, no random id: the same drawing, the same file
ezdxf.options.write_fixed_meta_data_for_testing = True  # type: ignore[attr-defined]

_LINE_TYPES = {DASHED: "DASHED", CHAIN: "CHAIN", DOTTED: "DOTTED"}


def new_document(scale: float) -> Document:
    """An empty R2010 document in millimetres whose line patterns and dimensions read well at 1:scale."""
    doc = new("R2010", units=4)  # 4: millimetres
    doc.header["$MEASUREMENT"] = 1  # metric
    doc.header["$LTSCALE"] = scale
    doc.header["$LWDISPLAY"] = 1
    for pattern, name in _LINE_TYPES.items():
        signed = [length if i % 2 == 0 else -length for i, length in enumerate(pattern)]
        doc.linetypes.add(name, [sum(pattern), *signed], description=name.lower())
    for name, layer in LAYERS.items():
        entry = doc.layers.add(
            layer_name(name),
            color=layer.colour_index,
            lineweight=round(layer.weight_mm * 100) or -3,  # hundredths of a millimetre, -3: default
            linetype=_LINE_TYPES[layer.dash_mm] if layer.dash_mm else "Continuous",
        )
        entry.description = layer.meaning
    doc.styles.add(STYLE, font="LiberationSans-Regular.ttf")
    doc.styles.add(BOLD_STYLE, font="LiberationSans-Bold.ttf")
    _add_dimension_style(doc, scale)
    return doc


def layer_name(layer: str) -> str:
    """Name of a layer in the file."""
    return layer.upper()


def _add_dimension_style(doc: Document, scale: float) -> None:
    style = doc.dimstyles.add(DIMENSION_STYLE)
    settings = {
        "dimscale": scale,
        "dimtxt": TEXT_MM,
        "dimasz": ARROW_MM,
        "dimexo": FOOT_MM,
        "dimexe": OVER_MM,
        "dimgap": TEXT_GAP_MM,
        "dimtad": 1,  # figure over the line
        "dimtih": 0,  # figures turn with their line, inside
        "dimtoh": 0,  # and outside
        "dimtmove": 2,  # a moved figure leaves its line where it is
        "dimdec": 0,
        "dimlfac": 1.0,
        "dimclrd": 256,  # colours of the layer
        "dimclre": 256,
        "dimclrt": 256,
        "dimlwd": 18,
        "dimlwe": 18,
        "dimtxsty": STYLE,
    }
    for name, value in settings.items():
        style.set_dxf_attrib(name, value)
