"""Pure functions, one science a module: numbers in, numbers out, SI throughout.

The handbook knows no build, no file and no screen. It imports the standard library, NumPy and SciPy only.
"""
