"""Whether what a page says can be seen: nothing in it is hidden that the page's script does not show.

The pages' policy lets no style into an attribute, and the proof lets none in either. What may hide is a short list.
"""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterator
from typing import Any

from .objection import Objection

SHOWN_BY_SCRIPT = {"card-check", "walk-choose", "walk-not-kept", "walk-progress", "walk-done", "walk-bar", "walk-about",
                   "practice", "practice-not-kept", "practice-tally", "practice-sure", "measure", "measure-set",
                   "measure-entries", "lookup-panel", "offline-state", "roadside-theme"}  # fmt: skip
"""Ids of what a script shows when it is wanted; without scripts the page says so elsewhere."""
PARTS_SHOWN = {"old", "ask", "panel", "more", "entry", "findings", "bar"}
"""Parts of the lookup that its script shows."""
HIDING_CLASSES = {"without-script": {"card-without-script", "measure-without-script", "walk-without-script",
                                     "practice-without-script"},
                  "with-script": {"measure-set"}}  # fmt: skip
"""Classes that hide something, and the ids that may have them."""
EMPTY_WITH_ARIA = ("mark", "walk__diamond")
STATES = ("yes", "once-reported", "if-safe", "no")
"""Ends of classes that colour and mark an answer."""


def prove_sight(tree: Any, output: str) -> Iterator[Objection]:
    """Objections to what hides some of a page's words, or marks an answer as another."""
    article = next(tree.iter("article"), None)
    if article is None:
        article = tree.find(".//main")
    if article is None:
        return
    for element in article.iterancestors():
        if element.get("hidden") is not None or element.get("aria-hidden") is not None or element.tag == "details":
            yield Objection(output, "page", f"is hidden by <{element.tag}>")
    for element in tree.iter():
        if isinstance(element.tag, str) and element.get("style") is not None:
            yield Objection(output, f"<{element.tag}>", "has a style of its own")
    if len([one for one in article.iter("p") if one.get("class") == "on-paper"]) > 1:
        yield Objection(output, "foot", "has more than one line that is seen on paper only")
    # The one file for the roadside has its foot, and its head, beside what stands in the middle.
    whole = [article] if article.tag == "article" else [article, *tree.iter("header", "footer")]
    for element in (one for part in whole for one in part.iter()):
        if isinstance(element.tag, str):
            yield from _element(element, article, output)


def _element(element: Any, article: Any, output: str) -> Iterator[Objection]:
    classes = (element.get("class") or "").split()
    if element.get("hidden") is not None and not (element.get("id") in SHOWN_BY_SCRIPT or element.get("data-part") in PARTS_SHOWN):
        yield Objection(output, _named(element), "is hidden")
    if element.get("aria-hidden") is not None and (classes[:1] not in [[one] for one in EMPTY_WITH_ARIA] or len(element) or element.text):
        yield Objection(output, _named(element), "is hidden from readers who listen")
    if element.get("inert") is not None or element.tag in ("template", "dialog", "style", "object", "iframe", "math"):
        yield Objection(output, _named(element), "does not belong on a page")
    if element.get("id") == "lookup" and element.get("data-state") != "idle":
        yield Objection(output, _named(element), "hides the ways in")
    if element.tag == "details" and classes not in (["books"], ["finds"], ["elsewhere"]):
        yield Objection(output, _named(element), "is folded away")
    if element.get("data-entry") and any(one.tag == "details" for one in element.iterancestors()):
        yield Objection(output, element.get("data-entry"), "is folded away")
    for one in classes:
        if one in HIDING_CLASSES and element.get("id") not in HIDING_CLASSES[one]:
            yield Objection(output, _named(element), f"is hidden by its class {one!r}")
        if one == "on-paper" and (len(classes) > 1 or element.tag != "p" or element.getparent().get("class") != "foot"):
            yield Objection(output, _named(element), "is seen on paper only")
        if one.startswith("md-") and element is not article:
            yield Objection(output, _named(element), f"has a class of the theme: {one!r}")
        base, _, state = one.rpartition("--")
        if state in STATES and base != "mark":
            mark = next((inner for inner in element.iter("span") if (inner.get("class") or "").startswith("mark ")), None)
            if mark is not None and mark.get("class") != f"mark mark--{state}":
                yield Objection(output, _named(element), f"is marked {mark.get('class')!r} and coloured {state!r}")


def _named(element: Any) -> str:
    """How an element is named in an objection: its tag and how its text begins."""
    return f"<{element.tag}> {' '.join((element.text or '').split())[:40]}".strip()


def prove_policy(tree: Any, output: str) -> Iterator[Objection]:
    """Objections to a page's policy: it names each script and style in the page, by its hash, and no other."""
    rules = [meta.get("content") or "" for meta in tree.iter("meta")
             if (meta.get("http-equiv") or "").lower() == "content-security-policy"]  # fmt: skip
    if len(rules) != 1:
        yield Objection(output, "policy", f"stands {len(rules)} times, and belongs here once")
        return
    named = {word for word in rules[0].replace(";", " ").split() if word.startswith("'sha256-")}
    inside = [script.text or "" for script in tree.iter("script")
              if script.get("src") is None and script.get("type") != "application/json"]  # fmt: skip
    inside += [style.text or "" for style in tree.iter("style")]
    hashes = {f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'" for text in inside}
    if named != hashes:
        yield Objection(output, "policy", "does not name the scripts and styles that stand in the page")
