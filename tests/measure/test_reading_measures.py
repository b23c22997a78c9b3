"""Measures are read as people write them, and what is not a measure gets a clear message; page and program agree."""

from __future__ import annotations

from fractions import Fraction

import pytest

from chockbook.catalogue import Catalogue
from chockbook.catalogue.quantity import Malformed, parse_quantity
from chockbook.views.measure_words import error_words

READS = [
    ("2 1/4", "9/4", None),
    ("2 1/4 in", "9/4", "in"),
    ('2-1/4"', "9/4", "in"),
    ("2 - 1/4 inches", "9/4", "in"),
    ("2 and 1/4 in", "9/4", "in"),
    ("2 ¼", "9/4", None),
    ("2¼ in", "9/4", "in"),
    ("½ in", "1/2", "in"),
    ("5/32", "5/32", None),
    ("4/32 in", "1/8", "in"),
    ("5/32nds", "5/32", "in"),
    ("5 32nds", "5", "32nds"),
    ("2,25 po", "9/4", "in"),
    ("2,25 pouces", "9/4", "in"),
    ("1 3⁄4″", "7/4", "in"),
    ("57mm", "57", "mm"),
    ("57 mm.", "57", "mm"),
    ("5.7 cm", "57/10", "cm"),
    ("0,8 mm", "4/5", "mm"),
    (".5 in", "1/2", "in"),
    ("10 ft", "10", "ft"),
    ("10'", "10", "ft"),
    ("3 pi", "3", "ft"),
    ("30 m", "30", "m"),
    ("60 psi", "60", "psi"),
    ("60 lb/po²", "60", "psi"),
    ("1 000 kPa", "1000", "kpa"),
    ("1\u202f000 kPa", "1000", "kpa"),
    ("380 KPA", "380", "kpa"),
    ("8 in of mercury", "8", "inhg"),
    ("45 s", "45", "s"),
    ("45 sec.", "45", "s"),
    ("3 minutes", "3", "min"),
    ("14°", "14", "degree"),
    ("14 degrés", "14", "degree"),
    ("20 %", "20", "percent"),
    ("20 pour cent", "20", "percent"),
    ("2 of 10", "1/5", "fraction"),
    ("2 sur 10", "1/5", "fraction"),
    ("1/4 full", "1/4", "fraction"),
    ("3", "3", None),
    ("10 B:C", "10", "count"),
]

MALFORMED = [
    ("", "empty", "Nothing was typed"),
    ("   ", "empty", "Nothing was typed"),
    ("1" * 41, "too-long", "too long"),
    ("mm", "no-number", "mm is not a measure: it does not begin with a number"),
    ("two inches", "no-number", "does not begin with a number"),
    ("about 2 in", "no-number", "does not begin with a number"),
    ("-3 mm", "sign", "Leave out the sign -"),
    ("~2 in", "sign", "Leave out the sign ~"),
    ("2.2.5 in", "two-points", "more than one decimal sign"),
    ("2,,5 po", "two-points", "more than one decimal sign"),
    ("1,000 kPa", "thousands", "can mean two things"),
    ("1/0 in", "zero-below", "has zero below the line"),
    ("2 of 0", "zero-below", "has zero below the line"),
    ("2 1/", "half-fraction", "the fraction in it is not whole"),
    ("2 5/4 in", "improper", "the fraction in 2 5/4 is one or more"),
    ("2.5 1/4 in", "point-and-fraction", "then a fraction"),
    ("1e3 kPa", "exponent", "write all the digits"),
    ("2 to 3 in", "range", "is a range or two numbers"),
    ("2-3 mm", "range", "is a range or two numbers"),
    ("57 mm 2 in", "two-measures", "holds more than one measure"),
    ("5 ft 6 in", "two-measures", "holds more than one measure"),
    ("½ ¼ in", "two-measures", "holds more than one measure"),
    ("57 furlongs", "unknown-unit", "the unit furlongs is not known. Use one of: mm, cm, m, in"),
    ("3 of 2", "part-of-whole", "the part is more than the whole"),
    ("٣ mm", "no-number", "does not begin with a number"),
]

READ_IN_PAGE = """({texts, data}) => texts.map((text) => {
  const M = window.ChockbookMeasure;
  try {
    const read = M.parse(text, data.units);
    return [`${read.value.n}/${read.value.d}`, read.unit && read.unit.id, read.isFraction];
  } catch (error) {
    if (!error.kind) throw error;
    return [error.kind, error.part, M.errorWords(error, text, data.limits[0], data)];
  }
})"""


@pytest.mark.parametrize(("text", "value", "unit"), READS)
def test_a_measure_is_read_exactly(text: str, value: str, unit: str | None) -> None:
    read = parse_quantity(text)
    assert read.value == Fraction(value)
    assert (read.unit.id if read.unit else None) == unit


@pytest.mark.parametrize(("text", "kind", "says"), MALFORMED)
def test_what_is_no_measure_is_refused_with_a_clear_message(
    text: str, kind: str, says: str, shipped: Catalogue
) -> None:
    with pytest.raises(Malformed) as refused:
        parse_quantity(text)
    assert refused.value.kind == kind
    message = error_words(shipped, refused.value, text, "en")
    assert says in message
    assert "{" not in message


def test_the_page_reads_and_refuses_the_same(in_page, data_of, shipped: Catalogue) -> None:
    texts = [text for text, *_ in (*READS, *MALFORMED)]
    found = in_page(READ_IN_PAGE, {"texts": texts, "data": data_of("on-s1")})
    expected = []
    for text in texts:
        try:
            read = parse_quantity(text)
            unit = read.unit.id if read.unit else None
            expected.append([f"{read.value.numerator}/{read.value.denominator}", unit, read.is_fraction])
        except Malformed as error:
            expected.append([error.kind, error.part, error_words(shipped, error, text, "en")])
    assert found == expected
