"""An examiner's questions, generated from the catalogue and never typed twice, and sheets of them for a class."""

from .bank import KINDS, question_bank
from .question import Choice, Question

__all__ = ["KINDS", "Choice", "Question", "question_bank"]
