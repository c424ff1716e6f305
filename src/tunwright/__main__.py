"""`python -m tunwright` does what the command `tunwright` does."""

from __future__ import annotations

from tunwright.cli import main

if __name__ == "__main__":
    main()
