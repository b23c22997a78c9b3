"""What a class got wrong: its answers read, marked by the keys of its sheets, and counted."""

from .class_results import ClassResults, class_results
from .read import Answered, Answers, read_answers

__all__ = ["Answered", "Answers", "ClassResults", "class_results", "read_answers"]
