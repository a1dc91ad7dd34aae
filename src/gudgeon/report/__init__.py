"""Paper and pictures: a job and its assessment in; content, its hash and a PDF out."""

from gudgeon.report.condition import condition_content
from gudgeon.report.content import (
    Content,
    RecordContent,
    content_bytes,
    content_hash,
    read_content,
    verify_content,
)
from gudgeon.report.leak_sheet import leak_sheet_content
from gudgeon.report.photographs import pictures_wanted
from gudgeon.report.record import record_content
from gudgeon.report.typesetting import PaperError, typeset, versions
from gudgeon.report.work_sheet import components, work_sheet_content

__all__ = [
    "Content",
    "PaperError",
    "RecordContent",
    "components",
    "condition_content",
    "content_bytes",
    "content_hash",
    "leak_sheet_content",
    "pictures_wanted",
    "read_content",
    "record_content",
    "typeset",
    "verify_content",
    "versions",
    "work_sheet_content",
]
