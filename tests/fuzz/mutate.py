# ruff: noqa: E501
"""Damaged packages from sound ones.  One number makes one package: same number, same bytes.

Most damage is done to the parts and packed again, since damage to the bytes of a ZIP is mostly
caught by its checksums and never reaches a reader.
"""

from __future__ import annotations

import io
import random
import re
import struct
import warnings
import zipfile
from collections.abc import Callable

from .seeds import Parts, loose, seeds

_TAG = re.compile(rb"<[^<>]{1,2000}>")
_ATTRIBUTE = re.compile(rb"""(\s[\w:.-]+=)(["'])([^"'<>]*)\2""")
_TEXT = re.compile(rb">([^<>]+)<")
_NAME = re.compile(rb"<(/?)([\w:.-]+)")
_MARKUP = (".xml", ".xhtml", ".opf", ".ncx", ".rels", ".css", ".svg", ".html")

VALUES = (
    b"", b"0", b"-1", b"1", b"2", b"999999999", b"99999999999999999999", b"-99999999999", b"1e309", b"NaN",
    b"1.5", b"0x10", b" 12 ", "²".encode(), "٣".encode(), "½".encode(), b"a" * 5000, b"1" * 5000,
    b"../../../etc/passwd", b"/", b"//", b"//[", b"http://[::1", b"http://[", b"file:///etc/passwd",
    b"javascript:alert(1)", b"#", b"##", b"%", b"%zz", b"%00", b"c1.xhtml#p1", b"?", b"\\", b"C:\\x",
    b"rtl", b"none", b"true", b"false", b"on", b"restart", b"continue", b"begin", b"end", b"separate",
    b"text/css", b"application/xhtml+xml", b"image/svg+xml", b"nav", b"en-", b"x-y-z-1", b"\xed\xa0\x80",
    "\u202eevil".encode(), "\u0000".encode(), "e\u0301".encode() * 50, "😀".encode(), b"&lt;", b"&#0;", b"&x;",
    b"%1.%2.%3.%9.%10", b"upperRoman", b"chicago", b"ordinalText", b"F0FF", b"D800", b"FFFFFFFF", b"{}", b"{0}",
    b"noteref", b"footnote", b"pagebreak", b"toc", b"page-list", b"index", b"glossary", b"z3998:verse",
)  # fmt: skip
TEXTS = (
    b"", b" ", b"\n\t ", b"x" * 3000, b"word " * 800, "\u00ad".encode() * 20, "\u200b\u2060\ufeff".encode(),
    "漢字かな".encode() * 40, "नमस्ते".encode(), "שלום \u202eabc\u202c".encode(), "\U0001f469\u200d\U0001f680".encode(),
    b"e" + "\u0301".encode() * 60, "\u2028\u2029\u0085".encode(), b"________", b"[ ] [x] ( )",
    b". . . . . . . . . . 12", b"......................", "☐☑☒".encode(), b"$x^2$ \\frac{1}{2}",
    b"AAAAAAAAAAAAAAAAAA aA aA aA", b"'''''\"\"\"\"\"'''", "“‘“‘“‘”’".encode(), b"3-4.5,6/7:8", b"http://a.b/c?d=e#f",
    "ffi ﬁ ǆ ß İ".encode(), "⠁⠃⠉⣿".encode(), "\ue000\uf061\U0010fffd".encode(), "①½²℀".encode(),
    b"a-" * 500, b"a/" * 300, b"(" * 300, b"&amp;" * 100, b"iv", b"1,000,000", b"IIII",
)  # fmt: skip
FRAGMENTS = (
    b"<p>", b"</p>", b"<w:p>", b"</w:p>", b"<w:tbl>", b"</w:tbl>", b"<!--", b"-->", b"<![CDATA[", b"]]>", b"<?x?>",
    b"<!DOCTYPE a>", b"<br/>", b"<table><tr><td>", b"</td></tr></table>", b"<ol><li>", b"</div>", b"&nbsp;", b"&bogus;",
    b"&#x110000;", b"&#xD800;", b"\x00", b"\x01", b"\xff\xfe", b"<", b">", b"&", b'"', b"<w:fldChar w:fldCharType='begin'/>",
    b"<w:br w:type='page'/>", b"<w:sdt><w:sdtContent>", b"<math><mi>", b"<script>x</script>", b"<template>x</template>",
    b"<title>x</title>", b"<body>", b"</body>", b"<html>", b"<w:noBreakHyphen/>", b"<w:softHyphen/>", b"<m:oMath/>",
    b"<section hidden=''>", b"<details><summary>s</summary>d</details>", b"<caption>c</caption>", b"<tr>", b"<td>x</td>",
)  # fmt: skip

Change = Callable[[random.Random, bytes], bytes]


def _flip(rng: random.Random, data: bytes) -> bytes:
    out = bytearray(data)
    for _ in range(rng.choice((1, 1, 2, 5, 20))):
        if out:
            out[rng.randrange(len(out))] ^= 1 << rng.randrange(8)
    return bytes(out)


def _cut(rng: random.Random, data: bytes) -> bytes:
    return data[: len(data) * rng.randrange(10) // 10]


def _splice(rng: random.Random, data: bytes) -> bytes:
    """Copy, move or drop a stretch that begins and ends at tags."""
    edges = [m.start() for m in _TAG.finditer(data)]
    if len(edges) < 3:
        return _insert(rng, data)
    start = rng.randrange(len(edges) - 1)
    stop = min(len(edges) - 1, start + rng.choice((1, 1, 2, 3, 8, 30)))
    low, high = edges[start], edges[stop]
    piece = data[low:high]
    how = rng.randrange(4)
    if how == 0:
        return data[:low] + data[high:]
    if how == 1:
        return data[:high] + piece * rng.choice((1, 2, 30)) + data[high:]
    rest = data[:low] + data[high:] if how == 2 else data
    at = rng.choice([m.start() for m in _TAG.finditer(rest)] or [0])
    return rest[:at] + piece + rest[at:]


def _insert(rng: random.Random, data: bytes) -> bytes:
    at = rng.randrange(len(data) + 1)
    if rng.random() < 0.8:
        edges = [m.end() for m in _TAG.finditer(data)]
        at = rng.choice(edges) if edges else at
    return data[:at] + rng.choice(FRAGMENTS) * rng.choice((1, 1, 1, 2, 60)) + data[at:]


def _nest(rng: random.Random, data: bytes) -> bytes:
    """Put one element a number of times around a place."""
    tags = [m for m in _TAG.finditer(data) if m[0][1:2].isalpha() and not m[0].endswith(b"/>")]
    if not tags:
        return data
    tag = rng.choice(tags)
    found = _NAME.match(tag[0])
    if found is None:
        return data
    many = rng.choice((1, 3, 20, 60, 150, 300, 1200))
    return data[: tag.end()] + tag[0] * many + (b"</" + found[2] + b">") * many + data[tag.end() :]


def _value(rng: random.Random, data: bytes) -> bytes:
    return _replace(rng, data, _ATTRIBUTE, 3, VALUES)


def _text(rng: random.Random, data: bytes) -> bytes:
    return _replace(rng, data, _TEXT, 1, TEXTS)


def _rename(rng: random.Random, data: bytes) -> bytes:
    """Give a start tag and the end tags like it another name of the same part."""
    names = sorted({m[2] for m in _NAME.finditer(data)})
    if len(names) < 2:
        return data
    old, new = rng.sample(names, 2)
    return re.sub(rb"(</?)" + re.escape(old) + rb"(?=[\s/>])", rb"\1" + new, data)


def _more_attributes(rng: random.Random, data: bytes) -> bytes:
    tags = [m for m in _TAG.finditer(data) if m[0][1:2].isalpha()]
    if not tags:
        return data
    at = rng.choice(tags).start()
    end = _NAME.match(data, at)
    if end is None:
        return data
    many = rng.choice((1, 5, 300, 3000))
    extra = b"".join(b' a%d="%s"' % (n, rng.choice(VALUES[:15])) for n in range(many))
    return data[: end.end()] + extra + data[end.end() :]


def _replace(
    rng: random.Random, data: bytes, pattern: re.Pattern[bytes], group: int, pool: tuple[bytes, ...]
) -> bytes:
    found = list(pattern.finditer(data))
    for match in sorted(
        rng.sample(found, min(len(found), rng.choice((1, 1, 2, 6)))), key=lambda m: -m.start()
    ):
        data = data[: match.start(group)] + rng.choice(pool) + data[match.end(group) :]
    return data


def _blow_up(rng: random.Random, data: bytes) -> bytes:
    """One text many times as long."""
    found = list(_TEXT.finditer(data))
    if not found:
        return data * 2
    match = rng.choice(found)
    many = min(rng.choice((50, 500, 3000)), 60_000 // max(1, len(match[1])) + 1)
    return data[: match.start(1)] + match[1] * many + data[match.end(1) :]


def _recode(rng: random.Random, data: bytes) -> bytes:
    text = data.decode("utf-8", "replace")
    code = rng.choice(("utf-16", "utf-16-le", "utf-32", "latin-1", "utf-7", "cp1252", "utf-8-sig"))
    return text.encode(code, "replace")


CHANGES: tuple[Change, ...] = (
    _flip, _cut, _splice, _splice, _splice, _insert, _insert, _nest, _value, _value, _value, _text,
    _text, _rename, _rename, _more_attributes, _blow_up, _recode,
)  # fmt: skip


# ---------------------------------------------------------------- whole packages


def _swap(rng: random.Random, parts: Parts) -> None:
    a, b = rng.sample(range(len(parts)), 2)
    parts[a], parts[b] = (parts[a][0], parts[b][1]), (parts[b][0], parts[a][1])


def _drop(rng: random.Random, parts: Parts) -> None:
    del parts[rng.randrange(len(parts))]


def _double(rng: random.Random, parts: Parts) -> None:
    name, data = rng.choice(parts)
    name = rng.choice((name, name.upper(), name.replace("/", "\\"), "/" + name, "../" + name))
    parts.append((name, rng.choice(CHANGES)(rng, data)))


def _graft(rng: random.Random, parts: Parts) -> None:
    """Content of another package of any kind under a name of this one."""
    _, others = rng.choice(seeds())
    at = rng.randrange(len(parts))
    parts[at] = (parts[at][0], rng.choice(others)[1])


def packed(parts: Parts) -> bytes:
    """A ZIP of the parts, doubled names and all."""
    file = io.BytesIO()
    with warnings.catch_warnings(), zipfile.ZipFile(file, "w") as archive:
        warnings.simplefilter("ignore")
        for name, data in parts:
            archive.writestr(zipfile.ZipInfo(name), data)
    return file.getvalue()


def written(suffix: str, parts: Parts) -> bytes:
    """The file of a seed: its one part, or a ZIP of its parts."""
    return parts[0][1] if loose(suffix, parts) else packed(parts)


def _raw(rng: random.Random, data: bytes) -> bytes:
    how = rng.randrange(4)
    if how == 0:
        return _flip(rng, data)
    if how == 1:
        return _cut(rng, data)
    at = data.rfind(b"PK\x05\x06") if how == 2 else data.find(b"PK\x01\x02")
    out = bytearray(data)
    if at >= 0:
        struct.pack_into("<I", out, at + rng.choice((8, 10, 12, 16, 18)), rng.getrandbits(32))
    return bytes(out)


def mutated(number: int) -> tuple[str, bytes]:
    """The suffix and bytes of the damaged package with this number."""
    rng = random.Random(number)
    suffix, sound = rng.choice(seeds())
    parts = list(sound)
    kind = rng.random()
    alone = loose(suffix, parts)
    if kind < 0.06:
        return suffix, _raw(rng, written(suffix, parts))
    if kind < 0.14 and not alone:
        rng.choice((_swap, _drop, _double, _graft))(rng, parts)
    for _ in range(rng.choice((0, 1) if kind < 0.14 and not alone else (1, 1, 2, 4))):
        heavy = [i for i, (name, _) in enumerate(parts) if name.endswith(_MARKUP)]
        weights = [len(parts[i][1]) ** 0.5 for i in heavy]
        at = rng.choices(heavy, weights)[0] if any(weights) else heavy[0]
        parts[at] = (parts[at][0], rng.choice(CHANGES)(rng, parts[at][1]))
    return suffix, parts[0][1] if alone else packed(parts)
