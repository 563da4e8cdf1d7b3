"""A Word body read block by block is what it is as one tree, and takes little memory.

Markup: ISO/IEC 29500-1, 17.2 and 17.3; XML 1.0, 2.4 (character data), 2.11 (line ends), 4.1
(references).
"""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

import pytest

from convert.document.nodes import Document
from convert.errors import SourceError
from convert.findings import Findings
from convert.readers.container import open_source
from convert.readers.docx import _as_one_tree, _by_blocks, read
from convert.readers.docx_stream import _ROOT, Irregular, unescaped
from convert.settings import Settings

from .make_docx import docx, p, r

NUMBERS = (
    '<w:abstractNum w:abstractNumId="1"><w:lvl w:ilvl="0"><w:start w:val="1"/>'
    '<w:numFmt w:val="decimal"/><w:lvlText w:val="%1."/></w:lvl></w:abstractNum>'
    '<w:num w:numId="1"><w:abstractNumId w:val="1"/></w:num>'
)
STYLES = (
    '<w:style w:type="paragraph" w:styleId="H"><w:name w:val="heading 1"/>'
    '<w:pPr><w:outlineLvl w:val="0"/></w:pPr></w:style>'
)
LISTED = '<w:pPr><w:numPr><w:ilvl w:val="0"/><w:numId w:val="1"/></w:numPr></w:pPr>'
TABLE = f"<w:tbl><w:tr><w:tc>{p(r('One'))}</w:tc><w:tc>{p(r('two'))}</w:tc></w:tr></w:tbl>"
LINK = '<w:hyperlink w:anchor="x">' + r("a link") + "</w:hyperlink>"
BEGIN, SEPARATE, END = (
    f'<w:r><w:fldChar w:fldCharType="{kind}"/></w:r>' for kind in ("begin", "separate", "end")
)
SECTION = '<w:sectPr><w:pgSz w:w="11906"/></w:sectPr>'


def facts(document: Document, findings: Findings) -> tuple[object, ...]:
    ledger = document.ledger
    told = [(f.kind, f.spans, f.facts) for f in findings.all()]
    return (
        document.children,
        document.omissions,
        document.meta,
        ledger.text,
        tuple(ledger.pieces),
        told,
    )


def both(path: Path) -> tuple[Document, Findings]:
    """What both ways make, which must be the same."""
    source, by_blocks, whole = open_source(path), Findings(), Findings()
    document = _by_blocks(source, Settings(), by_blocks)
    assert document is not None, "not read block by block"
    tree = _as_one_tree(source, Settings(), whole)
    assert facts(document, by_blocks) == facts(tree, whole)
    return document, by_blocks


@pytest.mark.parametrize(
    "body",
    [
        p(r("Plain words.")) + p("") + "<w:p/>" + p(r("More") + r(" words ")),
        p(r("in ") + r("italics", "<w:i/>") + r(" and ") + r("<b>".replace("<", "&lt;"), "<w:b/>")),
        p(r("caps", "<w:caps/>") + r("hidden", "<w:vanish/>") + r(" struck", "<w:strike/>")),
        p(r("Fish &amp; chips, &#8220;so&#x201d; &quot;said&quot; she&apos;s")),
        p(r("Name: ______ [ ] ......... here")) + p(r("☐ yes")),
        p(r("  leads and trails  ")) + p(r(" ")),
        p(r("A heading"), "H") + p(r("text"))
        + "".join(p(LISTED + r(word)) for word in ("first", "second")),
        p('<w:bookmarkStart w:id="1" w:name="b"/>' + r("marked") + '<w:bookmarkEnd w:id="1"/>'),
        p('<w:proofErr w:type="spellStart"/>' + r("teh") + '<w:proofErr w:type="spellEnd"/>'),
        p(r("before")) + TABLE + p(r("between")) + TABLE + TABLE + p(r("after")),
        p(LINK + r(" here")) + p(r("one")) + p("<w:r><w:tab/><w:t>two</w:t><w:br/></w:r>"),
        p(BEGIN + "<w:r><w:instrText>DATE</w:instrText></w:r>" + SEPARATE + r("today"))
        + p(r("still inside"))
        + p(r("inside ") + END),
        p(f"<w:pPr>{SECTION}</w:pPr>" + r("last of a section")) + p(r("next")) + SECTION,
        p("<w:pPr><w:rPr><w:del w:author='A'/></w:rPr></w:pPr>" + r("joined ")) + p(r("with this")),
        p("<w:ins w:author='A'>" + r("new ") + "</w:ins>")
        + p("<w:del><w:r><w:delText>old</w:delText></w:r></w:del>"),
        f"<w:sdt><w:sdtPr/><w:sdtContent>{p(r('controlled'))}</w:sdtContent></w:sdt>{p(r('x'))}",
        p(r("spoken", '<w:lang w:val="fr-FR"/>')) + p(r("English", '<w:lang w:val="en-GB"/>')),
        "\n  " + p(r("spaced")) + "\n  " + p("\n" + r("out") + "\n") + "\n",
        p("<w:r><w:t>a line end\nin a text</w:t></w:r>") + p(r("[ ] box")),
        "".join(p(r(f"paragraph {at} ") + r("x", "<w:b/>")) for at in range(50)),
    ],
)  # fmt: skip
def test_block_by_block_is_as_one_tree(body: str, tmp_path: Path) -> None:
    both(docx(tmp_path, body, numbering=NUMBERS, styles=STYLES))


def test_notes_are_called_in_order(tmp_path: Path) -> None:
    call = '<w:r><w:footnoteReference w:id="{}"/></w:r>'
    notes = "".join(f'<w:footnote w:id="{n}">{p(r(f"note {n}"))}</w:footnote>' for n in (1, 2))
    path = docx(
        tmp_path,
        p(r("one") + call.format(1)) + p(r("plain")) + p(r("two") + call.format(2)),
        footnotes=notes,
    )
    document, _ = both(path)
    assert document.ledger.text.split("\n")[:5] == ["one1", "1 note 1", "plain", "two2", "2 note 2"]


@pytest.mark.parametrize(
    "body",
    [
        p("<w:r><w:t>kept <![CDATA[as it is]]></w:t></w:r>"),
        p(r("words")) + "<!-- aside -->" + p(r("more")),
        p("<w:r><w:t>words<!-- aside --> more</w:t></w:r>"),
        p('<x:r xmlns:x="http://schemas.openxmlformats.org/wordprocessingml/2006/main">'
          "<x:t>words</x:t></x:r>"),
        p("<w:r><w:t foo='>'>words</w:t></w:r>") + p(r("more")),
        p('<w:r><w:t foo=">">words</w:t></w:r>') + p(r("more")),
    ],
)  # fmt: skip
def test_unusual_markup_loses_nothing(body: str, tmp_path: Path) -> None:
    path = docx(tmp_path, body)
    found, whole = Findings(), Findings()
    document = read(open_source(path), Settings(), found)
    tree = _as_one_tree(open_source(path), Settings(), whole)
    assert facts(document, found) == facts(tree, whole)
    assert "words" in document.ledger.text or "kept" in document.ledger.text


@pytest.mark.parametrize(
    "body",
    [
        p(r("words")) + "<w:p><w:r></w:p>",
        p(r("words &unknown; here")),
        p(r("words & here")),
        p(r("a control \x01 character")),
        p(r("half a pair &#xD800; here")),
        p(r("open")) + "<w:tbl><w:tr>",
        p(r("words")) + "</w:body><w:body>" + p("<w:r>"),
    ],
)
def test_what_is_not_well_formed_is_refused_as_ever(body: str, tmp_path: Path) -> None:
    found = Findings()
    with pytest.raises(SourceError) as refused:
        read(open_source(docx(tmp_path, body)), Settings(), found)
    assert "cannot be read" in refused.value.what


def test_references() -> None:
    assert unescaped(b"a &amp;lt; b &lt; &#60; c &quot;") == 'a &lt; b < < c "'
    for wrong in (b"&nbsp;", b"&", b"&#0;", b"&#xFFFE;", b"&#38;", b"\xff"):
        with pytest.raises(Irregular):
            unescaped(wrong)


_MEASURE = """
import re, sys
from pathlib import Path
from convert.findings import Findings
from convert.readers import docx
from convert.readers.container import open_source
from convert.settings import Settings
def peak():  # of this program alone; what getrusage says counts the one that started it, too
    return int(re.search(r"VmHWM:\\s*(\\d+) kB", Path("/proc/self/status").read_text())[1])
way = {"blocks": docx._by_blocks, "tree": docx._as_one_tree}[sys.argv[2]]
source = open_source(Path(sys.argv[1]))
before = peak()
way(source, Settings(), Findings())
print(peak() - before)
"""


def test_memory_is_that_of_the_document_made_not_of_its_tree(tmp_path: Path) -> None:
    """820,000 runs of different looks must fit in 500 MB: 600 bytes of memory a run at most."""
    looks = ("<w:i/>", "<w:b/>", '<w:u w:val="single"/>', "")
    runs = 60_000
    words = [r(f"word{at} ", looks[at % 4]) for at in range(runs)]
    body = "".join(p("".join(words[at : at + 10])) for at in range(0, runs, 10))
    path = docx(tmp_path, body)

    def kilobytes(way: str) -> int:
        command = [sys.executable, "-c", _MEASURE, str(path), way]
        return int(subprocess.run(command, capture_output=True, check=True, text=True).stdout)

    streamed, tree = kilobytes("blocks"), kilobytes("tree")
    assert streamed * 1024 < 600 * runs
    assert streamed < 0.6 * tree


def test_white_space_before_a_root_takes_no_long_time() -> None:
    """Each space is looked at once (thousandths of a second), not once for every other (many)."""
    start = time.process_time()
    assert _ROOT.match(b" " * 60_000 + b"<x>") is None
    assert time.process_time() - start < 2
    assert _ROOT.match(b' <?xml version="1.0"?>\n<w:document> <w:body>') is not None
    assert _ROOT.match(b"\n<w:document><w:body>") is not None
