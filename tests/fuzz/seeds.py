# ruff: noqa: E501
"""The sound packages that mutated ones are made from: the fixtures and small generated ones."""

from __future__ import annotations

import io
import zipfile
from functools import cache
from pathlib import Path

from tests.readers.make import CONTAINER, page
from tests.readers.make_docx import TYPES, p, part, r, relations, style

ROOT = Path(__file__).parents[2]
Parts = list[tuple[str, bytes]]

_BODY = """
<section epub:type="chapter"><h1>One <em>tide</em></h1><span epub:type="pagebreak" id="p1" title="1"/>
<p>He <b>ran</b> <i>and <u>ran</u></i>, 3<sup>rd</sup> H<sub>2</sub>O.<a epub:type="noteref" href="#n1">1</a></p>
<ol start="3" type="i"><li value="7">One<ul><li>In</li></ul></li><li>Two</li></ol>
<dl><dt>Ebb</dt><dd>Falling</dd></dl>
<table><caption>Tides</caption><thead><tr><th colspan="2">Day</th></tr></thead>
<tbody><tr><td rowspan="2">Mon</td><td>4.2</td></tr><tr><td>5</td></tr></tbody></table>
<math xmlns="http://www.w3.org/1998/Math/MathML" alttext="x"><mfrac><mi>x</mi><msup><mn>2</mn><mi>n</mi></msup></mfrac>
<mtable><mtr><mtd><mo>=</mo></mtd></mtr></mtable></math>
<figure><img src="a.png" alt="A boat"/><figcaption>Boat</figcaption></figure>
<figure aria-details="d1"><img src="b.png"/><details id="d1"><summary>Description</summary><p>A map.</p></details></figure>
<p>So <img src="c.png" alt="C" aria-describedby="d2 d3" longdesc="c2.xhtml"/> on. {{ name }}</p><p hidden="hidden" id="d2">Hid
<img src="c.png" aria-details="d1"/></p><pre>  a
 b</pre><blockquote><p>Said.</p><cite>Ada</cite></blockquote><p lang="fr">Été <ruby>漢<rt>kan</rt></ruby></p>
<form><label>Name <input type="text" name="n"/></label><select><option selected="selected">A</option></select>
<input type="checkbox" checked="checked"/></form>
<div class="verse"><p>Line<br/>Line</p></div><svg xmlns="http://www.w3.org/2000/svg"><text>Map</text></svg>
<aside epub:type="footnote" id="n1"><p>A note.</p></aside></section>
"""
_CSS = (
    "p.x, li > em { font-style: italic; display: none } .verse p { margin-left: 2em }\n"
    "@media print { u { text-decoration: underline } } ol { list-style-type: upper-roman }\n"
    "h1::before { content: 'Part ' counter(x) } @import url('more.css');"
)
_OPF = """<?xml version="1.0"?>
<package xmlns="http://www.idpf.org/2007/opf" version="3.0" unique-identifier="i">
<metadata xmlns:dc="http://purl.org/dc/elements/1.1/"><dc:identifier id="i">x</dc:identifier>
<dc:title>Tides</dc:title><dc:creator>Ada</dc:creator><dc:language>en</dc:language></metadata>
<manifest><item id="c1" href="c1.xhtml" media-type="application/xhtml+xml"/>
<item id="c2" href="c2.xhtml" media-type="application/xhtml+xml" fallback="c1"/>
<item id="n" href="nav.xhtml" properties="nav" media-type="application/xhtml+xml"/>
<item id="x" href="toc.ncx" media-type="application/x-dtbncx+xml"/>
<item id="s" href="s.css" media-type="text/css"/><item id="a" href="a.png" media-type="image/png"/></manifest>
<spine toc="x"><itemref idref="c1"/><itemref idref="c2" linear="no"/></spine></package>"""
_NAV = (
    '<nav epub:type="toc"><ol><li><a href="c1.xhtml">One</a></li></ol></nav>'
    '<nav epub:type="page-list"><ol><li><a href="c1.xhtml#p1">1</a></li></ol></nav>'
)
_NCX = (
    '<ncx xmlns="http://www.daisy.org/z3986/2005/ncx/"><navMap><navPoint id="a" playOrder="1">'
    '<navLabel><text>One</text></navLabel><content src="c1.xhtml"/></navPoint></navMap>'
    '<pageList><pageTarget type="normal" value="1"><navLabel><text>1</text></navLabel>'
    '<content src="c1.xhtml#p1"/></pageTarget></pageList></ncx>'
)


def book() -> Parts:
    """An EPUB with most of what a reader knows, in little."""
    link = '<link rel="stylesheet" href="s.css"/><style>.x { color: red }</style>'
    return [
        ("mimetype", b"application/epub+zip"),
        ("META-INF/container.xml", CONTAINER.format(opf="OPS/book.opf").encode()),
        ("OPS/book.opf", _OPF.encode()),
        ("OPS/c1.xhtml", page(_BODY, link).encode()),
        ("OPS/c2.xhtml", page("<h2>Two</h2><p>More &amp; more.</p>", link).encode()),
        ("OPS/nav.xhtml", page(_NAV).encode()),
        ("OPS/toc.ncx", _NCX.encode()),
        ("OPS/s.css", _CSS.encode()),
        ("OPS/a.png", b"\x89PNG\r\n\x1a\n" + bytes(30)),
    ]


def _form() -> str:
    def sdt(props: str, inner: str) -> str:
        return f"<w:sdt><w:sdtPr>{props}</w:sdtPr><w:sdtContent>{inner}</w:sdtContent></w:sdt>"

    def bit(kind: str) -> str:
        return f'<w:r><w:fldChar w:fldCharType="{kind}"/></w:r>'

    check = '<w14:checkbox><w14:checked w14:val="1"/></w14:checkbox>'
    choice = '<w:dropDownList><w:listItem w:displayText="Ebb" w:value="e"/></w:dropDownList>'
    numbered = '<w:numPr><w:ilvl w:val="0"/><w:numId w:val="1"/></w:numPr>'
    leader = '<w:tabs><w:tab w:val="right" w:leader="underscore" w:pos="9000"/></w:tabs>'
    entry = '<w:tc><w:tcPr><w:gridSpan w:val="2"/><w:vMerge w:val="restart"/></w:tcPr>{}</w:tc>'
    sum_ = (
        "<m:oMath><m:f><m:num><m:r><m:t>1</m:t></m:r></m:num><m:den><m:r><m:t>x</m:t></m:r>"
        '</m:den></m:f><m:nary><m:naryPr><m:chr m:val="∑"/></m:naryPr><m:sub/><m:sup/><m:e>'
        "<m:r><m:t>n</m:t></m:r></m:e></m:nary></m:oMath>"
    )
    box = (
        '<mc:AlternateContent><mc:Choice Requires="wps"><w:drawing><wp:inline><wp:docPr id="1" '
        'name="Box" descr="A box"/><a:graphic><a:graphicData uri="u"><wps:wsp><wps:txbx>'
        f"<w:txbxContent>{p('In a box')}</w:txbxContent></wps:txbx></wps:wsp></a:graphicData>"
        "</a:graphic></wp:inline></w:drawing></mc:Choice><mc:Fallback><w:pict><v:textbox>"
        f"<w:txbxContent>{p('In a box')}</w:txbxContent></v:textbox></w:pict></mc:Fallback>"
        "</mc:AlternateContent>"
    )
    looks = '<w:tblStyle w:val="Chart"/><w:tblLook w:val="01E0"/>'
    anew = '<w:sectPr><w:footnotePr><w:numRestart w:val="eachSect"/></w:footnotePr></w:sectPr>'
    return "".join(
        [
            p("Harbour form", "Heading1"),
            p(r("Name: ") + sdt('<w:alias w:val="Name"/><w:showingPlcHdr/><w:text/>', r("[You]"))),
            p(sdt(check, r("☒")) + r(" yes") + sdt(choice, r("Ebb")) + r("Sign ____ here")),
            p(r("one"), props=numbered) + p(r("two", "b i"), props=numbered),
            p(r("Date") + "<w:r><w:tab/></w:r>", props=leader),
            p(
                bit("begin") + "<w:r><w:instrText> FORMTEXT </w:instrText></w:r>"
                + bit("separate") + r("  ") + bit("end")
            ),
            p(r("Ada", "u") + '<w:r><w:footnoteReference w:id="2"/></w:r>' + sum_, props=anew),
            p('<w:r><w:lastRenderedPageBreak/><w:footnoteReference w:id="3"/></w:r>'),
            p('<w:ins w:author="B"><w:r><w:t>new</w:t></w:r></w:ins><w:del w:author="B"><w:r>'
              "<w:delText>old</w:delText></w:r></w:del><w:hyperlink r:id=\"h\"><w:r><w:t>link</w:t>"
              "</w:r></w:hyperlink>"),
            f"<w:tbl><w:tblPr>{looks}</w:tblPr><w:tblGrid/><w:tr>{entry.format(p('a'))}</w:tr><w:tr>"
            f"<w:tc>{p('b')}</w:tc><w:tc>{p('c')}</w:tc></w:tr></w:tbl>",
            p(f"<w:r>{box}</w:r>"),
            p('<w:r><w:br w:type="page"/></w:r><w:r><w:sym w:font="Symbol" w:char="F061"/></w:r>'),
            '<w:sectPr><w:pgNumType w:start="5" w:fmt="lowerRoman"/></w:sectPr>',
        ]
    )  # fmt: skip


def form() -> Parts:
    """A Word document with most of what a reader knows, in little."""
    level = '<w:lvl w:ilvl="0"><w:start w:val="1"/><w:numFmt w:val="decimal"/><w:lvlText w:val="%1."/></w:lvl>'
    numbering = (
        f'<w:abstractNum w:abstractNumId="0">{level}</w:abstractNum>'
        '<w:num w:numId="1"><w:abstractNumId w:val="0"/></w:num>'
    )
    styles = "".join(
        [
            "<w:docDefaults><w:rPrDefault><w:rPr><w:sz w:val=\"22\"/></w:rPr></w:rPrDefault></w:docDefaults>",
            style("Normal"),
            style("heading 1", '<w:basedOn w:val="Normal"/><w:rPr><w:b/></w:rPr>', style_id="Heading1"),
            style("Strong", "<w:rPr><w:b/></w:rPr>", "character"),
            style(
                "Chart",
                "".join(
                    f'<w:tblStylePr w:type="{kind}"><w:rPr><w:b/></w:rPr></w:tblStylePr>'
                    for kind in ("firstRow", "lastRow", "firstCol", "lastCol")
                ),
                "table",
            ),
        ]
    )  # fmt: skip
    note = "".join(f'<w:footnote w:id="{n}">{p("A note.")}</w:footnote>' for n in (2, 3))
    kinds = ("styles", "numbering", "footnotes", "settings")
    rows = [(f"p{at}", kind, f"{kind}.xml") for at, kind in enumerate(kinds)]
    links = relations(*rows, ("h", "hyperlink", "http://example.org/"))
    parts = {
        "[Content_Types].xml": TYPES,
        "_rels/.rels": relations(
            ("m", "officeDocument", "word/document.xml"),
            ("c", "core-properties", "docProps/core.xml"),
        ),
        "word/document.xml": part("document", f"<w:body>{_form()}</w:body>"),
        "word/_rels/document.xml.rels": links,
        "word/styles.xml": part("styles", styles),
        "word/numbering.xml": part("numbering", numbering),
        "word/footnotes.xml": part("footnotes", note),
        "word/settings.xml": part("settings", '<w:defaultTabStop w:val="720"/>'),
    }
    return [(name, text.encode()) for name, text in parts.items()]


_DTBOOK = """<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE dtbook PUBLIC "-//NISO//DTD dtbook 2005-2//EN" "http://www.daisy.org/z3986/2005/dtbook-2005-2.dtd" [
<!ENTITY % MATHML.prefixed "INCLUDE"> ]>
<dtbook xmlns="http://www.daisy.org/z3986/2005/dtbook/" version="2005-2" xml:lang="en">
<head><meta name="dc:Title" content="Tides"/><meta name="dc:Creator" content="Ada"/></head>
<book><frontmatter><doctitle>Tides</doctitle><docauthor>Ada</docauthor><level1 class="toc"><h1>Contents</h1>
<list type="pl"><li><lic>One</lic><lic>1</lic></li></list></level1></frontmatter><bodymatter>
<level1 class="chapter"><pagenum page="normal" id="p1">1</pagenum><h1>One&nbsp;tide</h1>
<p>He <em>ran</em>.<noteref idref="n1">1</noteref> <sent>A <w>b</w>.</sent> <q>Said</q> 3<sup>rd</sup></p>
<bridgehead>Sub</bridgehead><list type="ol" enum="a" start="3"><hd>Things</hd><li>x</li><li>y<list type="ul">
<li>z</li></list></li></list><imggroup><img src="a.png" alt="A boat"/><caption>Boat</caption>
<prodnote render="optional">The boat is red.</prodnote></imggroup><img id="i2" src="b.png"/><p>{% if x %}</p>
<prodnote imgref="i2">It is blue.</prodnote><sidebar><hd>Box</hd><p>In box</p></sidebar>
<poem><title>Song</title><author>Bo</author><linegroup><line><linenum>5</linenum>One</line><line>Two</line>
</linegroup></poem><table><caption>T</caption><tr><th>a</th><th>b</th></tr><pagenum id="p2">2</pagenum>
<tr><td rowspan="2">1</td><td>2</td></tr></table><p showin="xxp">Not braille</p>
<annotation id="an1"><p>Beside.</p></annotation><p>x<annoref idref="an1">*</annoref></p>
<note id="n1"><p>1 A note.</p></note><dl><dt>t</dt><dd>d</dd></dl></level1></bodymatter>
<rearmatter><level1><h1>Notes</h1><note id="n2"><p>e</p></note></level1></rearmatter></book></dtbook>"""
_FILESET = """<package xmlns="http://openebook.org/namespaces/oeb-package/1.0/"><metadata><dc-metadata
xmlns:dc="http://purl.org/dc/elements/1.1/"><dc:Title>Tides</dc:Title><dc:Language>en</dc:Language></dc-metadata></metadata>
<manifest><item id="b" href="tides.xml" media-type="application/x-dtbook+xml"/></manifest><spine><itemref idref="b"/></spine></package>"""
_PAGE = """<!DOCTYPE html>
<html lang=en><head><title>Tides</title><meta charset=utf-8><meta name=author content="Ada Reef"><style>u{color:red}</style>
<body class=x><header>Site</header><nav><ul><li><a href=#a>Home</a></ul></nav><main><h1 id=a>One</h1><p>First<p>Second &mdash; <b>bold<i> both</b></i>
<ul><li>a<li>b<ol type=i><li>c</ol></ul><table><caption>T</caption><tr><th>x<th>y<tr><td colspan=2>1</table>
<div role=heading aria-level=3>Third</div><p><img src=z.png aria-details=d></p><div id=d class=sr-only>Z</div><title>Late</title><figure><img src=pics/y.png alt=why><figcaption>Y</figcaption></figure>
<math><mfrac><mi>x</mi><mn>2</mn></mfrac></math><svg><text>Map</text></svg><script>alert(1)</script>
<form><label>Name <input name=n></label><select><option selected>A<option>B</select></form><br><hr>
<dl><dt>Ebb<dd>Falling</dl><blockquote>Said &amp; done</blockquote></main><footer>&copy; all</footer>
"""


def loose(suffix: str, parts: Parts) -> bool:
    """Whether a seed is one file of markup, not a package."""
    return suffix in ("html", "xml") and len(parts) == 1


def unpacked(data: bytes) -> Parts:
    """The entries of a package, in order."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return [(i.filename, archive.read(i)) for i in archive.infolist() if not i.is_dir()]


@cache
def seeds() -> tuple[tuple[str, Parts], ...]:
    """(suffix, parts) of every sound package, always in the same order."""
    fixtures = ROOT / "fixtures"
    return (
        ("epub", book()),
        ("docx", form()),
        ("epub", unpacked((fixtures / "river-school.epub").read_bytes())),
        ("docx", unpacked((fixtures / "permit-form.docx").read_bytes())),
        ("xml", [("tides.xml", _DTBOOK.encode())]),
        ("html", [("tides.html", _PAGE.encode())]),
        ("zip", [("book.opf", _FILESET.encode()), ("tides.xml", _DTBOOK.encode())]),
    )
