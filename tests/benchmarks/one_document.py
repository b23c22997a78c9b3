"""One manual-sized document: time and memory of three ways from the same content to a PDF.

    pip install weasyprint
    python tests/benchmarks/one_document.py [--times 3]

The manual of the first rulebook is set by Chockbook. Its text, page by page, goes into one plain HTML document, which
a general library (WeasyPrint) and Chromium's own print turn into a PDF: the same words and the same number of blocks,
without the page numbers, running heads and word index of pages that HTML has no way to ask for cheaply.
"""

from __future__ import annotations

import html
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import pypdfium2

ROOT = Path(__file__).parents[2]
MANUAL = """
import sys
from pathlib import Path
from chockbook.printing import render_manual
from chockbook.project import find_project
catalogue = find_project(Path({root!r})).assemble().catalogue
render_manual(catalogue, catalogue.rulebooks[0].id, catalogue.languages[0].code, Path({out!r}))
"""
LIBRARY = "from weasyprint import HTML; HTML({page!r}).write_pdf({out!r}, pdf_variant='pdf/ua-1')"
STYLE = """@page { size: 210mm 279.4mm; margin: 15mm } body { font: 10.5pt 'Atkinson Hyperlegible Next', sans-serif }
h1 { break-before: page; font-size: 16pt } p { margin: 0 0 1mm }"""


def as_html(pdf: Path, page: Path) -> tuple[int, int]:
    """Write the text of a PDF as HTML, a paragraph a line and a heading a page; gives back pages and letters."""
    document = pypdfium2.PdfDocument(pdf)
    texts = [one.get_textpage().get_text_range() for one in document]
    body = "".join(f"<h1>{n}</h1>" + "".join(f"<p>{html.escape(line)}</p>" for line in text.splitlines() if line.strip())
                   for n, text in enumerate(texts, 1))  # fmt: skip
    page.write_text(f"<!doctype html><html lang=en><meta charset=utf-8><title>Manual</title><style>{STYLE}</style>{body}",
                    encoding="utf-8")  # fmt: skip
    return len(texts), sum(map(len, texts))


def timed(name: str, command: list[str], out: Path) -> None:
    """Run a command of its own, and print what it took."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    clock = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, timeout=900)
    clock = time.perf_counter() - clock
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    own = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    pages = len(pypdfium2.PdfDocument(out))
    print(f"{name}: {clock:.1f} s by the clock, {own:.1f} s of the processors, {pages} pages, {out.stat().st_size // 1000} kB",
          flush=True)  # fmt: skip


def main() -> None:
    """Run all three, and print what came of it."""
    folder = Path(tempfile.mkdtemp(prefix="one-document-"))
    manual, page, out = folder / "manual.pdf", folder / "manual.html", folder / "out.pdf"
    times = int(sys.argv[sys.argv.index("--times") + 1]) if "--times" in sys.argv else 1
    try:
        for _ in range(times):
            timed("Chockbook, tables read and checked", [sys.executable, "-c", MANUAL.format(root=str(ROOT), out=str(manual))], manual)
        print("{} pages, {} letters of text".format(*as_html(manual, page)))
        for _ in range(times):
            timed("WeasyPrint", [sys.executable, "-c", LIBRARY.format(page=str(page), out=str(out))], out)
        chromium = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
        for _ in range(times if chromium else 0):
            timed("Chromium's print", [str(chromium), "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
                                       f"--user-data-dir={folder / 'profile'}", f"--print-to-pdf={out}", page.as_uri()], out)  # fmt: skip
    finally:
        shutil.rmtree(folder, ignore_errors=True)


if __name__ == "__main__":
    main()
