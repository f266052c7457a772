"""Writing a bundle to a file by its suffix: .pdf, .md or .csv; nothing half-written ever stands."""

from __future__ import annotations

import os
from pathlib import Path

from splitline.errors import SplitlineError
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


def write_bundle(bundle: Bundle, path: Path, paper: Paper) -> None:
    """Write it. ReportError: the suffix or the folder will not do."""
    write_bytes(path, bundle_bytes(bundle, check_suffix(path), paper))


def bundle_bytes(bundle: Bundle, suffix: str, paper: Paper) -> bytes:
    """The file's content."""
    if suffix == ".pdf":
        from splitline.report.pdf.flow import pdf_bytes

        return pdf_bytes(bundle, paper)
    if suffix == ".md":
        from splitline.report.markdown import markdown_text

        return markdown_text(bundle).encode("utf-8", "replace")
    from splitline.report.table_csv import csv_text

    return csv_text(bundle).encode("utf-8-sig", "replace")  # spreadsheets take UTF-8 only when it is marked


def write_bytes(path: Path, data: bytes) -> None:
    """Beside the target first, then in its place."""
    beside = path.with_name(f".{path.name}.new")
    try:
        beside.write_bytes(data)
        os.replace(beside, path)
    except OSError as error:
        beside.unlink(missing_ok=True)
        raise ReportError(f"{path} cannot be written: {error.strerror or error}") from None
