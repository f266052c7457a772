"""Writing a bundle to a file by its suffix: .pdf, .md or .csv; nothing half-written ever stands."""

from __future__ import annotations

from pathlib import Path

from splitline.errors import SplitlineError
from splitline.outlet import shown
from splitline.output_file import write_file
from splitline.report.blocks import Bundle
from splitline.report.pdf.paper import Paper

SUFFIXES = (".pdf", ".md", ".csv")


class ReportError(SplitlineError):
    """A print that cannot be written."""


def check_suffix(path: Path) -> str:
    """The suffix; ReportError for one nothing is written in."""
    suffix = path.suffix.lower()
    if suffix not in SUFFIXES:
        raise ReportError(f"{path}: sheets are written as {', '.join(SUFFIXES)}; name the file so")
    return suffix


def write_bundle(bundle: Bundle, path: Path, paper: Paper, force: bool = False) -> None:
    """Write it. ReportError: the suffix will not do; OutputFileError: the file is there, or cannot be written."""
    write_file(path, bundle_bytes(bundle, check_suffix(path), paper), force)


def bundle_bytes(bundle: Bundle, suffix: str, paper: Paper) -> bytes:
    """The file's content."""
    if suffix == ".pdf":
        from splitline.report.pdf.flow import pdf_bytes

        return pdf_bytes(bundle, paper)
    if suffix == ".md":
        from splitline.report.markdown import markdown_text

        return shown(markdown_text(bundle)).encode("utf-8", "replace")
    from splitline.report.table_csv import csv_text

    return shown(csv_text(bundle)).encode("utf-8-sig", "replace")  # spreadsheets take UTF-8 only when it is marked
