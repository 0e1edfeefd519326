"""The part that holds a tab's notes: ours appended to the user's, those of an earlier marking taken out."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from service.sheets.marks.own import AUTHOR, NOTE_END, NOTE_START
from service.sheets.marks.splicing import Edit, UnpatchableError, appended, outlined, removed, spliced, utf8
from service.sheets.marks.xml_text import cell_text, escaped, named, unescaped

if TYPE_CHECKING:
    from collections.abc import Mapping

    from service.sheets.marks.splicing import Element

_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
NO_NOTES = (
    '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
    f'<comments xmlns="{_MAIN}"><authors></authors><commentList></commentList></comments>'
).encode()
_LOOK = '<~rPr><~sz val="9"/><~color indexed="81"/><~rFont val="Tahoma"/><~family val="2"/></~rPr>'
_CONVERSATION = "tc="


@dataclass(slots=True)
class Notes:
    """Notes after marking.

    Attributes:
        part: the part's bytes.
        texts: by cell, the whole text of each note that was added or changed.
        gone: cells whose note was ours alone and isn't needed any more.
        talked: cells to be marked that hold a conversation, which is left alone.
    """

    part: bytes
    texts: dict[str, str] = field(default_factory=dict)
    gone: set[str] = field(default_factory=set)
    talked: set[str] = field(default_factory=set)


def with_notes(content: bytes, wanted: Mapping[str, str]) -> Notes:
    """The part with a note in each wanted cell; nobody's own words are changed.

    Raises:
        UnpatchableError: when the part is not built as notes are.
    """
    part = utf8(content)
    root = outlined(part)
    authors, listed = root.child("authors"), root.child("commentList")
    if authors is None or listed is None:
        raise UnpatchableError("no list of notes")
    names = [author.text.strip() for author in authors.children]
    notes, rest, edits = Notes(part), dict(wanted), []
    writers = {str(number): name for number, name in enumerate(names)}
    for note in listed.children:
        is_talk = writers.get(note.attribute("authorId"), "").startswith(_CONVERSATION)
        edits += _passed_over(note, rest, notes) if is_talk else _changed(note, rest, notes)
    number = names.index(AUTHOR) if AUTHOR in names else len(names)
    if rest and number == len(names):
        edits.append(appended(part, authors, named(f"<~author>{AUTHOR}</~author>", root.prefix).encode()))
    fresh = "".join(_fresh(address, number, text) for address, text in rest.items())
    if rest:
        edits.append(appended(part, listed, named(fresh, root.prefix).encode()))
        notes.texts.update(rest)
    notes.part = spliced(part, edits)
    return notes


def _passed_over(note: Element, rest: dict[str, str], notes: Notes) -> list[Edit]:
    address = _cell_of(note)
    if rest.pop(address, None) is not None:
        notes.talked.add(address)
    return []


def _cell_of(note: Element) -> str:
    return note.attribute("ref").replace("$", "")


def _changed(note: Element, rest: dict[str, str], notes: Notes) -> list[Edit]:
    """Edits of one note that is there; its cell is taken off the rest that need a new one."""
    address, text = _cell_of(note), note.child("text")
    if text is None:
        return [removed(note)] if address in rest else []
    kept, whole = _own_words(notes.part, text)
    if not kept and NOTE_START in whole:
        notes.gone.add(address)
        return [removed(note)]
    return _kept_and_ours(address, text, kept, rest, notes, was_marked=NOTE_START in whole)


def _kept_and_ours(
    address: str, text: Element, kept: list[tuple[str, str]], rest: dict[str, str], notes: Notes, *, was_marked: bool
) -> list[Edit]:
    ours = rest.pop(address, None)
    if ours is None and not was_marked:
        return []
    runs = "".join(xml for xml, _ in kept)
    words = "".join(shown for _, shown in kept)
    if ours is not None:
        runs += _run(f"\n\n{ours}")
        words += f"\n\n{ours}"
    notes.texts[address] = words
    tag = notes.part[text.start : text.opened].removesuffix(b"/>").removesuffix(b">").rstrip()
    tail = b"".join(
        notes.part[child.start : child.end] for child in text.children if child.local in {"rPh", "phoneticPr"}
    )
    content = named(runs, text.prefix).encode() + tail
    return [Edit(text.start, text.end, tag + b">" + content + f"</{text.name}>".encode())]


def _own_words(part: bytes, text: Element) -> tuple[list[tuple[str, str]], str]:
    """The user's runs of a note, as XML and as words, without what stands between our lines; and the whole text."""
    runs = [child for child in text.children if child.local in {"t", "r"}]
    words = [_words(run) for run in runs]
    whole = "".join(words)
    spans = _ours_in(whole)
    kept, place = [], 0
    for run, shown in zip(runs, words, strict=True):
        rest = _outside(shown, place, spans)
        if rest == shown and rest:
            kept.append((_as_run(part, run, shown), shown))
        elif rest:
            kept.append((_run(rest, _look_of(part, run)), rest))
        place += len(shown)
    return ([] if not "".join(shown for _, shown in kept).strip() else kept), whole


def _words(run: Element) -> str:
    texts = [run] if run.local == "t" else [child for child in run.children if child.local == "t"]
    return unescaped("".join(text.text for text in texts))


def _ours_in(whole: str) -> list[tuple[int, int]]:
    """From the start line to the end line, the line breaks before it included; without an end line, to the end."""
    spans, place = [], 0
    while (start := whole.find(NOTE_START, place)) >= 0:
        end = whole.find(NOTE_END, start)
        end = len(whole) if end < 0 else end + len(NOTE_END)
        spans.append((len(whole[:start].rstrip("\n")), end))
        place = end
    return spans


def _outside(shown: str, place: int, spans: list[tuple[int, int]]) -> str:
    """What of a run that begins at a place of the whole text lies in none of the spans."""
    rest, start = "", 0
    for first, last in spans:
        rest += shown[start : max(first - place, start)]
        start = min(max(last - place, start), len(shown))
    return rest + shown[start:]


def _as_run(part: bytes, run: Element, shown: str) -> str:
    """A kept run as it was written; a bare text becomes a run, as only runs may follow it."""
    if run.local == "r":
        return part[run.start : run.end].decode()
    return _run(shown, "")


def _look_of(part: bytes, run: Element) -> str:
    look = run.child("rPr") if run.local == "r" else None
    return part[look.start : look.end].decode() if look else ""


def _run(text: str, look: str = _LOOK) -> str:
    return f'<~r>{look}<~t xml:space="preserve">{cell_text(text)}</~t></~r>'


def _fresh(address: str, author: int, text: str) -> str:
    return f'<~comment ref="{escaped(address)}" authorId="{author}"><~text>{_run(text)}</~text></~comment>'
