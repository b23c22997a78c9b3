"""The figures of item analysis, as their sources give them. Only numbers come in and go out.

Sources: G. F. Kuder and M. W. Richardson, "The theory of the estimation of test reliability", Psychometrika 2 (1937),
151-160. T. L. Kelley, "The selection of upper and lower groups for the validation of test items", Journal of
Educational Psychology 30 (1939), 17-24. L. J. Cronbach, "Coefficient alpha and the internal structure of tests",
Psychometrika 16 (1951), 297-334. J. P. Guilford, "The correlation of an item with a composite of the remaining items
in a test", Educational and Psychological Measurement 13 (1953), 87-93.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

OUTER_PART = 0.27
"""Part of the students in the upper and in the lower group (Kelley 1939): best where scores are spread normally."""
_NOTHING = 1e-12
"""A variance below this is rounding, not spread."""


def correlation(ones: Sequence[float], others: Sequence[float]) -> float | None:
    """Pearson's correlation, -1 to 1; None where either side does not vary.

    With rights as 0 and 1 on one side it is the point-biserial correlation,
    (M1 - M0) / s * sqrt(p * q), where M1 and M0 are the mean scores of those who were right and wrong, s is the
    standard deviation of all scores (divided by n), p the share right and q the share wrong. "Corrected" it is
    where the score leaves the question itself out (Guilford 1953).
    """
    n = len(ones)
    if n < 2:
        return None
    mean_one, mean_other = math.fsum(ones) / n, math.fsum(others) / n
    var_one = math.fsum((value - mean_one) ** 2 for value in ones)
    var_other = math.fsum((value - mean_other) ** 2 for value in others)
    if var_one < _NOTHING or var_other < _NOTHING:
        return None
    both = math.fsum((one - mean_one) * (other - mean_other) for one, other in zip(ones, others, strict=True))
    return max(-1.0, min(1.0, both / math.sqrt(var_one * var_other)))


def upper_lower(rights: Sequence[float], scores: Sequence[float], part: float = OUTER_PART) -> float | None:
    """Share right in the upper group less share right in the lower, -1 to 1; None where the scores do not vary.

    Each group is `part` of the students, rounded to the nearest whole number and at least one. Students whose equal
    scores lie across the border of a group share its last places evenly, so that no order of the rows decides.

    Args:
        rights: 1 for right and 0 for wrong, a student each.
        scores: the same students' scores on the whole test.
        part: 0 to 0.5.
    """
    n = len(rights)
    if n < 2 or max(scores) - min(scores) < _NOTHING:
        return None
    size = min(max(1, int(n * part + 0.5)), n // 2)
    by_score: dict[float, list[float]] = {}
    for right, score in zip(rights, scores, strict=True):
        by_score.setdefault(round(score, 9), []).append(right)

    def share(order: Sequence[float]) -> float:
        room, got = float(size), 0.0
        for score in order:
            group = by_score[score]
            taken = min(room, len(group))
            got += taken * math.fsum(group) / len(group)
            room -= taken
            if room <= 0:
                break
        return got / size

    rising = sorted(by_score)
    return share(rising[::-1]) - share(rising)


def alpha(parts: Sequence[Sequence[float]]) -> float | None:
    """Cronbach's alpha (1951): k / (k - 1) * (1 - sum of the parts' variances / variance of the totals).

    With a part for each question, scored 0 or 1, it is formula 20 of Kuder and Richardson (1937). Variances are
    divided by n; the quotient is the same with n - 1.

    Args:
        parts: for each part of the test the students' scores, in one order.

    Returns:
        At most 1; below 0 where parts run against each other. None with fewer than two parts or students, or where
        the totals do not vary.
    """
    k = len(parts)
    if k < 2 or len(parts[0]) < 2:
        return None
    totals = [math.fsum(scores) for scores in zip(*parts, strict=True)]
    whole = variance(totals)
    if whole < _NOTHING:
        return None
    return k / (k - 1) * (1 - math.fsum(variance(part) for part in parts) / whole)


def variance(values: Sequence[float]) -> float:
    """Mean square distance from the mean, divided by n."""
    mean = math.fsum(values) / len(values)
    return math.fsum((value - mean) ** 2 for value in values) / len(values)
