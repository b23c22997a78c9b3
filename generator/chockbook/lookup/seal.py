"""Seals the finished pages: a strict Content-Security-Policy, the manifest and the offline script in each."""

from __future__ import annotations

import base64
import hashlib
import re
from html import escape
from pathlib import Path

SCRIPT = re.compile(r"<script\b([^>]*)>(.*?)</script>", re.DOTALL | re.IGNORECASE)
STYLE = re.compile(r"<style\b[^>]*>(.*?)</style>", re.DOTALL | re.IGNORECASE)
STYLE_ATTRIBUTE = re.compile(r"<[a-z][^<>]*\sstyle\s*=", re.IGNORECASE)
HANDLER = re.compile(r"<[a-z][^<>]*\son[a-z]+\s*=\s*[\"']", re.IGNORECASE)
DATA_TYPE = re.compile(r"""type\s*=\s*["']?application/(?:ld\+)?json""", re.IGNORECASE)
HEAD = re.compile(r"<head\b[^>]*>\s*(?:<meta charset=[^>]*>)?", re.IGNORECASE)
OFFLINE = "assets/lookup/offline.js"
SITE_RULES = ("img-src 'self' data:", "font-src 'self'", "connect-src 'self'", "worker-src 'self'",
              "manifest-src 'self'", "form-action 'self'")  # fmt: skip


class Unsealable(ValueError):
    """A page holds what a strict policy cannot allow: a script in an attribute, or a style in one."""


def hash_source(text: str) -> str:
    """The policy's name for an inline script or style with exactly this text."""
    digest = base64.b64encode(hashlib.sha256(text.encode("utf-8")).digest()).decode("ascii")
    return f"'sha256-{digest}'"


def policy(scripts: list[str], styles: list[str], own: str, others: tuple[str, ...] = ()) -> str:
    """A policy that lets in these inline texts, what `own` names, and nothing else.

    Args:
        scripts: texts of the inline scripts.
        styles: texts of the inline styles.
        own: source of scripts and styles besides, such as "'self'", or "" for none.
        others: rules for other kinds of matter.
    """

    def sources(texts: list[str]) -> str:
        return " ".join(dict.fromkeys([*([own] if own else []), *map(hash_source, texts)])) or "'none'"

    rules = ["default-src 'none'", f"script-src {sources(scripts)}", f"style-src {sources(styles)}", *others,
             "base-uri 'none'", "object-src 'none'"]  # fmt: skip
    if not any(rule.startswith("form-action") for rule in others):
        rules.append("form-action 'none'")
    return "; ".join(rules)


def inline_scripts(page: str) -> list[str]:
    """The inline scripts of a page that a browser would run."""
    return [body for attributes, body in SCRIPT.findall(page)
            if not re.search(r"\bsrc\s*=", attributes) and not DATA_TYPE.search(attributes)]  # fmt: skip


def sealed(page: str, root: str) -> str:
    """A page with its policy, the manifest and the offline script.

    Args:
        page: the page's HTML.
        root: the way from the page to the root of the site, such as "../" or "".

    Raises:
        Unsealable: the page has a script or style in an attribute, or no head.
    """
    without_code = STYLE.sub("", SCRIPT.sub("", page))
    for pattern, what in ((HANDLER, "script"), (STYLE_ATTRIBUTE, "style")):
        found = pattern.search(without_code)
        if found:
            raise Unsealable(f"a {what} in an attribute: {found[0][:80]}")
    rules = escape(policy(inline_scripts(page), STYLE.findall(page), "'self'", SITE_RULES), quote=True)
    head = HEAD.search(page)
    if head is None:
        raise Unsealable("the page has no head")
    place = escape(root, quote=True)
    added = (
        f'<meta http-equiv="Content-Security-Policy" content="{rules}">'
        f'<link rel="manifest" href="{place}manifest.webmanifest">'
        f'<link rel="stylesheet" href="{place}assets/lookup/offline.css">'
        f'<script src="{place}{OFFLINE}" defer></script>'
    )
    return page[: head.end()] + added + page[head.end() :]


def seal_pages(site_dir: Path) -> int:
    """Seals every page of a finished site, once; gives the number of pages sealed.

    Raises:
        Unsealable: a page cannot be sealed; the message names it.
    """
    count = 0
    for path in sorted(site_dir.rglob("*.html")):
        page = path.read_text("utf-8")
        if OFFLINE in page:
            continue
        # The page for wrong addresses is shown at any depth, so the theme gives it addresses from the root.
        deep = "/" if path.name == "404.html" else "../" * (len(path.relative_to(site_dir).parts) - 1)
        try:
            path.write_text(sealed(page, deep), "utf-8", newline="\n")
        except Unsealable as error:
            raise Unsealable(f"{path.relative_to(site_dir).as_posix()}: {error}") from error
        count += 1
    return count
