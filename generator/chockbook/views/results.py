"""What a class got wrong, in one language: for the terminal and for the printed report."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from ..catalogue import Catalogue
from ..drill.keys import Keys
from ..results.class_results import ClassResults
from ..results.confusions import Confusion
from ..results.item_analysis import FEWEST, FEWEST_SHEETS, Item
from ..results.shares import Share
from .teach_first import missed_systems, teach_first
from .wording import fixed_word, in_language

MOST_NEXT = 5
"""Systems that are named of those that the next drill asks more about. Our own choice."""
FEWEST_POINTS = 6
"""Questions with a discrimination below which the plot shows systems instead. Our own choice."""


@dataclass(frozen=True, slots=True)
class ShareView:
    """A system, severity, kind or level with its share right."""

    number: int
    """Its place in its list, from 1: the one with the smallest share right."""
    name: str
    share: float
    percent: str
    counted: str
    """Such as "13 of 31"."""
    discrimination: str
    """Such as "0.31"; a dash where there is none."""


@dataclass(frozen=True, slots=True)
class QuestionView:
    """A question and how it was answered."""

    number: int
    text: str
    system: str
    percent: str
    counted: str
    point_biserial: str
    upper_lower: str
    answer: str
    """The right answer."""
    ticked: str
    """What was ticked most often instead; "" where nothing was."""


@dataclass(frozen=True, slots=True)
class PairView:
    """Two answers that were taken for each other."""

    says: str
    """The kind of question, which was ticked instead of which, and how often it was the other way round."""
    where: str
    """The systems in which it happened."""


@dataclass(frozen=True, slots=True)
class PointView:
    """A point of the plot: share right against discrimination; the number is that of its list, or 0."""

    number: int
    share: float
    discrimination: float


@dataclass(frozen=True, slots=True)
class StudentView:
    """A student's score."""

    student: str
    sheet: str
    counted: str
    percent: str
    blank: int


@dataclass(frozen=True, slots=True)
class ResultsView:
    """Everything that is shown of a class."""

    about: str
    teach: tuple[str, ...]
    """What to teach first, in plain words."""
    head: tuple[str, ...]
    notices: tuple[str, ...]
    mean: float
    mean_percent: str
    students: tuple[StudentView, ...]
    systems: tuple[ShareView, ...]
    severities: tuple[ShareView, ...]
    kinds: tuple[ShareView, ...]
    levels: tuple[ShareView, ...]
    questions: tuple[QuestionView, ...]
    """Those that someone missed, the most missed first."""
    pairs: tuple[PairView, ...]
    points: tuple[PointView, ...]
    points_of: str
    """questions, systems, or "" where there are no points."""
    plot_says: str
    next_says: str


def view_results(catalogue: Catalogue, results: ClassResults, keys: Sequence[Keys], language: str) -> ResultsView:
    """The results of a class with at least one marked sheet.

    Args:
        catalogue: gives names and fixed words.
        results: the class.
        keys: those that the class was marked by, of one rulebook.
        language: of names and words; questions keep the language of their sheets, which is then shown in brackets.

    Raises:
        MissingWording: words.yaml lacks a fixed word.
        KeyError: the catalogue has no such rulebook.
    """
    say = _Sayer(catalogue, keys[0].setting.rulebook_id, language)
    other = next((f"[{one.setting.language}] " for one in keys if one.setting.language != language), "")
    systems = _shares(say, results.shares["systems"], say.system)
    points, points_of, plot_says = _points(say, results)
    stale = [code for code in results.editions if code != catalogue.edition.code]
    return ResultsView(
        say("results-about", classes=", ".join(results.classes), rulebook=say.rulebook,
            editions=", ".join(results.editions)),
        teach_first(say, results, other),
        _head(say, results),
        (say("results-other-edition", editions=", ".join(stale), now=catalogue.edition.code),) if stale else (),
        results.mean, say.percent(results.mean),
        tuple(StudentView(one.student, one.sheet, say.counted(one.right, len(one.answers)), say.percent(one.share),
                          one.blank) for one in results.sheets),
        systems,
        _shares(say, results.shares["severities"], say.severity),
        _shares(say, results.shares["kinds"], say.kind),
        _shares(say, results.shares["levels"], say.level),
        tuple(_question(say, number, item, other) for number, item in enumerate(results.items, 1)
              if item.right < item.students),
        tuple(_pair(say, one, other) for one in results.confusions),
        points, points_of, plot_says, _next(say, results.weights),
    )  # fmt: skip


class _Sayer:
    """Names and fixed words in one language, and figures as it writes them."""

    def __init__(self, catalogue: Catalogue, rulebook_id: str, language: str) -> None:
        self._catalogue, self._language = catalogue, language
        rulebook = catalogue.rulebook[rulebook_id]
        self.rulebook = in_language(rulebook.short_name, language)
        self._leads = [f"{name}. " for name in rulebook.short_name.values()]
        self._systems = {system.id: in_language(system.name, language) for system in catalogue.systems}
        self._severities = {one.id: in_language(one.name, language) for one in rulebook.severities}
        self._comma = fixed_word(catalogue, "results-decimal", language)

    def __call__(self, key: str, **values: object) -> str:
        text = fixed_word(self._catalogue, key, self._language)
        for name, value in values.items():
            text = text.replace("{" + name + "}", str(value))
        return text

    def bare(self, question: str) -> str:
        """A question without the rulebook that it begins with, whatever the language of its sheet."""
        return next((question.removeprefix(lead) for lead in self._leads if question.startswith(lead)), question)

    def percent(self, share: float) -> str:
        return self("results-percent", number=int(100 * share + 0.5))

    def counted(self, right: int, asked: int) -> str:
        return self("results-counted", right=right, asked=asked)

    def figure(self, value: float | None) -> str:
        """A coefficient with two places; a dash for none."""
        if value is None:
            return "–"
        return f"{value + 0.0:.2f}".replace("-0.00", "0.00").replace(".", self._comma).replace("-", "\u2212")

    def system(self, name: str) -> str:
        return self._systems.get(name, name)

    def severity(self, name: str) -> str:
        return self._severities.get(name, name)

    def kind(self, name: str) -> str:
        return self._of(f"drill-kind-{name}", name)

    def level(self, name: str) -> str:
        return self._of(f"drill-level-{name}", name)

    def _of(self, key: str, name: str) -> str:
        return self(key) if key in self._catalogue.words else name


def _head(say: _Sayer, results: ClassResults) -> tuple[str, ...]:
    shares = [sheet.share for sheet in results.sheets]
    found = results.reliability
    if len(results.sheets) < FEWEST_SHEETS:
        reliable = say("results-few-sheets", fewest=FEWEST_SHEETS)
    elif found is None:
        reliable = say("results-no-reliability")
    else:
        reliable = say(f"results-{found.formula}", value=say.figure(found.value), parts=found.parts)
    return (
        say("results-marked", sheets=len(results.sheets), left_out=results.left_out, blanks=results.blanks),
        say("results-mean", mean=say.percent(results.mean), least=say.percent(min(shares)),
            most=say.percent(max(shares))),
        reliable,
    )  # fmt: skip


def _shares(say: _Sayer, shares: Sequence[Share], name_of: Callable[[str], str]) -> tuple[ShareView, ...]:
    return tuple(
        ShareView(number, name_of(one.id), one.share, say.percent(one.share), say.counted(one.right, one.asked),
                  say.figure(one.discrimination))
        for number, one in enumerate(shares, 1)
    )  # fmt: skip


def _question(say: _Sayer, number: int, item: Item, other: str) -> QuestionView:
    ticked = ""
    if item.wrong:
        most = [text.rstrip(".") for text, count in item.wrong if count == item.wrong[0][1]]
        ticked = say("results-ticked", text=other + most[0], count=item.wrong[0][1])
    return QuestionView(number, other + say.bare(item.asked.text), say.system(item.asked.system_id), say.percent(item.difficulty),
                        say.counted(item.right, item.students), say.figure(item.point_biserial),
                        say.figure(item.upper_lower),
                        say("results-answer", text=other + item.right_text.rstrip(".")), ticked)  # fmt: skip


def _pair(say: _Sayer, one: Confusion, other: str) -> PairView:
    says = say("results-pair", right=other + one.one.rstrip("."), ticked=other + one.other.rstrip("."),
               count=one.other_for_one)  # fmt: skip
    if one.one_for_other:
        says += " " + say("results-pair-back", count=one.one_for_other)
    where = ", ".join(f"{say.system(name)} {count}" for name, count in one.systems[:3])
    more = len(one.systems) - 3
    if more > 0:
        where += " " + say("results-more", number=more)
    said = say("results-of-kind", kind=say.kind(one.kind), says=says)
    return PairView(said, say("results-pair-where", offered=one.offered, systems=where))


def _points(say: _Sayer, results: ClassResults) -> tuple[tuple[PointView, ...], str, str]:
    """Questions where enough of them have a discrimination, systems otherwise; and what is said of them."""
    items = results.items
    questions = tuple(PointView(number, item.difficulty, item.point_biserial)
                      for number, item in enumerate(items, 1) if item.point_biserial is not None)  # fmt: skip
    if len(questions) >= FEWEST_POINTS:
        says = say("results-plot-questions", points=len(questions), questions=len(items), fewest=FEWEST)
        return questions, "questions", says
    systems = tuple(PointView(number, one.share, one.discrimination)
                    for number, one in enumerate(results.shares["systems"], 1)
                    if one.discrimination is not None)  # fmt: skip
    if systems:
        return systems, "systems", say("results-plot-systems", fewest=FEWEST)
    return (), "", say("results-plot-none", fewest=FEWEST)


def _next(say: _Sayer, weights: Mapping[str, float]) -> str:
    more = missed_systems(weights)
    if not more:
        return say("results-next-even")
    named = (f"{say.system(name)} ×\u00a0{say.figure(weights[name])}" for name in more[:MOST_NEXT])
    beyond = " " + say("results-more", number=len(more) - MOST_NEXT) if len(more) > MOST_NEXT else ""
    return say("results-next-more", systems=", ".join(named) + beyond)
