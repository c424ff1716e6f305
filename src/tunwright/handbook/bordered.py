"""Symmetric equations with a band and a border: K = [[A, B], [B^T, C]], A banded, C small.

A is factorised in its band (Cholesky), the border by its Schur complement S = C - B^T A^-1 B. For a long frame with a
few rigid bodies that is some thirty times less work than the full matrix.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import cho_factor, cho_solve, cholesky_banded
from scipy.linalg.lapack import dpbtrs

Floats = NDArray[np.float64]


class Bordered:
    """A positive definite matrix, factorised. Raises numpy.linalg.LinAlgError where it is not positive definite.

    matrix: the matrix (n, n)
    border: how many of its last rows are the border [-]
    """

    def __init__(self, matrix: Floats, border: int) -> None:
        n = len(matrix) - border
        self.n, self.pivots = n, np.empty(len(matrix))
        self.band = cholesky_banded(_band(matrix[:n, :n]), lower=True, check_finite=False) if n else np.zeros((1, 0))
        self.pivots[:n] = self.band[0] ** 2
        self.b = matrix[:n, n:]
        self.back = self._inner(self.b)
        self.schur = None
        if border:
            self.schur = cho_factor(matrix[n:, n:] - self.b.T @ self.back, lower=True, check_finite=False)
            self.pivots[n:] = np.diag(self.schur[0]) ** 2

    def _inner(self, right: Floats) -> Floats:
        if not self.n or not right.shape[1]:
            return np.zeros_like(right)
        found: Floats = dpbtrs(self.band, right, lower=1)[0]
        return found

    def solve(self, right: Floats) -> Floats:
        """Solutions (n, cases).

        right: right-hand sides (n, cases), in the unit of the matrix times that of the solution [-]
        """
        inner = self._inner(right[: self.n])
        if self.schur is None:
            return inner
        outer = cho_solve(self.schur, right[self.n :] - self.b.T @ inner, check_finite=False)
        return np.vstack([inner - self.back @ outer, outer])


def _band(matrix: Floats) -> Floats:
    """The lower band (width, n) of a symmetric matrix, as LAPACK keeps it."""
    rows, columns = np.nonzero(matrix)
    width = int((rows - columns).max(initial=0)) + 1
    found = np.zeros((width, len(matrix)))
    below = rows >= columns
    rows, columns = rows[below], columns[below]
    found[rows - columns, columns] = matrix[rows, columns]
    return found
