"""The schematic of the pipework: laid out by itself, drawn with symbols in the manner of ISO 14617."""
