"""Content documents to trees: each case is a body and the tree it must give."""

from __future__ import annotations

from pathlib import Path
from textwrap import dedent

import pytest

from convert.document import nodes
from convert.document.nodes import Document
from convert.findings import Findings

from .make import draw, epub, kinds, read_epub

MATHML = "xmlns='http://www.w3.org/1998/Math/MathML'"
CASES = {
    # ---------------------------------------------------------- paragraphs and headings
    "headings keep their printed rank [HTML 4.3.6]": (
        "<h1>Sea</h1><p>Salt.</p><h3>Ebb</h3>",
        """
        Heading: Sea
        Paragraph: Salt.
        Heading level=3: Ebb
        """,
    ),
    "h2 below an h1 of a lower rank is of a lower rank too, beside it not": (
        "<section><h1>Sea</h1><section><h1>Ebb</h1><section><h2>Neap</h2></section><h3>Low</h3>"
        "</section><section><h2>Flow</h2></section></section>",
        """
        Section
          Heading: Sea
          Section
            Heading level=2: Ebb
            Section
              Heading level=3: Neap
            Heading level=4: Low
          Section
            Heading level=2: Flow
        """,
    ),
    "h1 in a section of a section with its own heading is of a lower rank": (
        "<section><h1>Sea</h1><section><h1>Ebb</h1>"
        "<section><h1>Neap</h1></section></section></section>",
        """
        Section
          Heading: Sea
          Section
            Heading level=2: Ebb
            Section
              Heading level=3: Neap
        """,
    ),
    "heading group: the lines after the heading are subtitles [HTML 4.3.7]": (
        "<hgroup><h2>Tides</h2><p>A Study</p></hgroup>",
        """
        Heading level=2: Tides
        Heading role=subtitle level=2: A Study
        """,
    ),
    "a bridgehead beside the heading of its section is a further line of it [SSV 1.1]": (
        "<section><header><h2>Tides</h2><p epub:type='bridgehead'>By the Pilot</p></header>"
        "<p>a</p><section><h3>Ebb</h3></section></section>",
        """
        Section
          Heading level=2: Tides
          Heading role=subtitle level=2: By the Pilot
          Paragraph: a
          Section
            Heading level=3: Ebb
        """,
    ),
    "a bridgehead in the text is below the heading of its section and ranks nothing [SSV 1.1]": (
        "<section><h2>Tides</h2><p>a</p><p epub:type='bridgehead'>Ropes</p><p>b</p>"
        "<p epub:type='bridgehead'>Sails</p><section><h3>Ebb</h3></section></section>",
        """
        Section
          Heading level=2: Tides
          Paragraph: a
          Heading level=3: Ropes
          Paragraph: b
          Heading level=3: Sails
          Section
            Heading level=3: Ebb
        """,
    ),
    "a subtitle in a paragraph of its own is a further line of its heading [SSV 1.1]": (
        "<section><h2>Tides</h2><p epub:type='subtitle'>A Study</p><p>a</p></section>",
        """
        Section
          Heading level=2: Tides
          Heading role=subtitle level=2: A Study
          Paragraph: a
        """,
    ),
    "white space is collapsed as displayed, no-break space kept [CSS Text 3, 4.1]": (
        "<p>\n  two \t tides\n and&#160; a <b> bore </b> x\n</p>",
        "Paragraph: two tides and\u00a0 a <bold|bore >x",
    ),
    "text beside blocks is a paragraph": (
        "<div>before<p>inside</p>after</div>",
        """
        Paragraph: before
        Paragraph: inside
        Paragraph: after
        """,
    ),
    "a line end of print": ("<p>12 Quay<br/> Harwich </p>", "Paragraph: 12 Quay / Harwich"),
    "line ends of preformatted text": (
        "<pre>ebb  1\nflow 2\n</pre>",
        "Paragraph: ebb  1 / flow 2",
    ),
    "titles beside tables and pictures, as DocBook's tools write them (common practice)": (
        "<div class='table'><p class='title'><b>Tides</b></p><div class='table-contents'>"
        "<table><tr><td>a</td><td>b</td></tr></table></div></div>"
        "<div class='example'><p class='title'>Ebb</p><p>So.</p></div>",
        """
        Table
          Paragraph role=caption: <bold|Tides>
          TableRow
            TableEntry
              Paragraph: a
            TableEntry
              Paragraph: b
        Paragraph role=caption: Ebb
        Paragraph: So.
        """,
    ),
    "admonitions of technical documents are boxes (common practice)": (
        "<div class='admonition note'><p class='admonition-title'>Note</p><p>So.</p></div>"
        "<p>He saw <span class='caution'>it</span>.</p>",
        """
        Box role=notice
          Paragraph: Note
          Paragraph: So.
        Paragraph: He saw it.
        """,
    ),
    "a class of what holds it names preformatted text code (common practice)": (
        "<div class='highlight-sh'><div class='highlight'><pre>ebb = 1</pre></div></div>"
        "<pre class='programlisting'>flow</pre><pre>neap</pre>",
        "Paragraph: <program|ebb = 1>\nParagraph: <program|flow>\nParagraph: neap",
    ),
    "lines of code alone are a program [HTML 4.4.3]": (
        "<pre><code>ebb = 1\nflow</code></pre><pre>so <code>ebb</code></pre>",
        "Paragraph: <program|ebb = 1> / <program|flow>\nParagraph: so <computer|ebb>",
    ),
    "typeforms by element [HTML 4.5]": (
        "<p><i>a</i><b>b</b><u>c</u><sup>d</sup><sub>e</sub><s>f</s><code>g</code></p>",
        "Paragraph: <italic|a><bold|b><underline|c><sup|d><sub|e><strike|f><computer|g>",
    ),
    "nested typeforms are one flat run each": (
        "<p><i>a <b>b</b></i> c</p>",
        "Paragraph: <italic|a ><italic bold|b> c",
    ),
    "language, the nearest ancestor's, xml:lang first [HTML 3.2.6.2]": (
        "<p>to <i xml:lang='fr' lang='de'>mer <span lang='en-GB'>sea</span></i></p>",
        "Paragraph: to <italic @fr|mer ><italic|sea>",
    ),
    "phonetic notation is marked in any language [BCP 47, variant fonipa]": (
        "<p>a <span lang='en-fonipa'>[kæt]</span> <span lang='en-GB'>cat</span></p>",
        "Paragraph: a <@en-fonipa|[kæt]> cat",
    ),
    "quotation marks of q are generated": (
        "<p><q>ebb <q>and</q> flow</q></p>",
        "Paragraph: “ebb ‘and’ flow”",
    ),
    "ruby: the reading in parentheses": (
        "<p><ruby>潮<rt>ushio</rt></ruby> <ruby>波<rp>[</rp><rt>nami</rt><rp>]</rp></ruby></p>",
        "Paragraph: 潮(ushio) 波[nami]",
    ),
    # ---------------------------------------------------------- set-off matter
    "quotation with its attribution": (
        "<blockquote><p>The sea.</p><cite>A. Pilot</cite></blockquote>",
        """
        Displayed role=quotation
          Paragraph: The sea.
          Paragraph role=attribution: <italic|A. Pilot>
        """,
    ),
    "footer of a quotation is its attribution": (
        "<blockquote>The sea.<footer>A. Pilot</footer></blockquote>",
        """
        Displayed role=quotation
          Paragraph: The sea.
          Paragraph role=attribution: A. Pilot
        """,
    ),
    "epigraph, sidebar, notice by semantics [SSV 1.1]": (
        "<div epub:type='epigraph'><p>a</p></div><aside><p>b</p></aside>"
        "<section role='doc-notice'><p>c</p></section>",
        """
        Displayed role=epigraph
          Paragraph: a
        Box role=sidebar
          Paragraph: b
        Box role=notice
          Paragraph: c
        """,
    ),
    "breaks in context: rule and ornament": (
        "<p>a</p><hr/><p>b</p><p>* * *</p><p>c</p>",
        """
        Paragraph: a
        ContextBreak
        Paragraph: b
        ContextBreak: * * *
        Paragraph: c
        """,
    ),
    "entries of a bibliography as paragraphs [DPUB-ARIA 1.1, doc-biblioentry]": (
        "<p role='doc-biblioentry'>a</p><div epub:type='biblioentry'><p>b</p></div>"
        "<p class='biblioentry'>c</p><ul><li role='doc-biblioentry'>d</li></ul>",
        """
        Paragraph role=bibliography: a
        Paragraph role=bibliography: b
        Paragraph role=bibliography: c
        ListBlock kind=bulleted
          ListItem role=bibliography: •
            Paragraph: d
        """,
    ),
    "roles of divisions, role before epub:type [AAG]": (
        "<section role='doc-preface' epub:type='chapter'><p>a</p></section>",
        """
        Section role=preface
          Paragraph: a
        """,
    ),
    "paragraph roles by class": (
        "<div class='table-notes'><p>a In May.</p></div>"
        "<p class='directions'>Tick one.</p><p class='salutation'>Dear all,</p>",
        """
        Paragraph role=table-note: a In May.
        Paragraph role=direction: Tick one.
        Paragraph role=salutation: Dear all,
        """,
    ),
    # ---------------------------------------------------------- lists
    "numbers as printed: start, value, type, reversed [HTML 4.4.5]": (
        "<ol start='3' type='a'><li>x</li><li value='27'>y</li></ol>"
        "<ol reversed='' type='I'><li>x</li><li>y</li></ol>",
        """
        ListBlock kind=numbered
          ListItem: c.
            Paragraph: x
          ListItem: aa.
            Paragraph: y
        ListBlock kind=numbered
          ListItem: II.
            Paragraph: x
          ListItem: I.
            Paragraph: y
        """,
    ),
    "nested lists, also without an item around": (
        "<ul><li>a<ul><li>b</li></ul></li><ul><li>c</li></ul></ul>",
        """
        ListBlock kind=bulleted
          ListItem: •
            Paragraph: a
            ListBlock kind=bulleted
              ListItem: •
                Paragraph: b
            ListBlock kind=bulleted
              ListItem: •
                Paragraph: c
        """,
    ),
    "definition list: an item for each group of terms": (
        "<dl><dt>ebb</dt><dt>reflux</dt><dd>falling</dd><dt>flow</dt><dd><p>rising</p></dd></dl>",
        """
        ListBlock kind=definition
          ListItem
            Paragraph role=term: ebb
            Paragraph role=term: reflux
            Paragraph role=definition: falling
          ListItem
            Paragraph role=term: flow
            Paragraph role=definition: rising
        """,
    ),
    "contents, glossary and index lists [SSV 1.1], without a browser's own bullets [BF 21]": (
        "<nav epub:type='toc'><ol style='list-style: none'><li>Sea</li></ol></nav>"
        "<nav epub:type='loi'><ol style='list-style: none'><li>A map</li></ol></nav>"
        "<section epub:type='index'><ul><li>ebb, 3</li></ul></section>",
        """
        Section role=contents
          ListBlock role=contents kind=plain
            ListItem
              Paragraph: Sea
        Section role=contents-list
          ListBlock role=contents-list kind=plain
            ListItem
              Paragraph: A map
        Section role=index
          ListBlock role=index kind=plain
            ListItem
              Paragraph: ebb, 3
        """,
    ),
    "a list inside a note is a list, not more notes [SSV 1.1]": (
        "<section epub:type='endnotes'><ol><li id='n1'>The scale:<ul><li>ebb</li></ul></li></ol>"
        "</section>",
        """
        Section role=notes
          Footnote kind=end id=n1: 1.
            Paragraph: The scale:
            ListBlock kind=bulleted
              ListItem: •
                Paragraph: ebb
        """,
    ),
    "exercises: numbered questions with lettered choices [BF 10]": (
        "<section epub:type='practices'><p class='directions'>Choose.</p>"
        "<ol><li><p>The moon pulls the</p><ol type='a'><li>sea</li></ol></li></ol></section>",
        """
        Section role=exercise
          Paragraph role=direction: Choose.
          ListBlock role=exercise kind=numbered
            ListItem: 1.
              Paragraph: The moon pulls the
              ListBlock role=choices kind=numbered
                ListItem: a.
                  Paragraph: sea
        """,
    ),
    "single questions join one list": (
        "<div class='exercise'><p>Why?</p></div>"
        "<div class='exercise'><p>Which?</p><ol type='a'><li>ebb</li></ol></div>",
        """
        ListBlock role=exercise kind=plain
          ListItem
            Paragraph: Why?
          ListItem
            Paragraph: Which?
            ListBlock role=choices kind=numbered
              ListItem: a.
                Paragraph: ebb
        """,
    ),
    # ---------------------------------------------------------- verse and drama
    "verse: a paragraph a stanza, levels by indent class [BF 13]": (
        "<div epub:type='z3998:poem'><p><span>One</span><br/><span class='i1'>two</span></p>"
        "<p><span>three</span></p></div>",
        """
        Verse
          VerseLine: One
          VerseLine level=2: two
          VerseLine stanza=2: three
        """,
    ),
    "verse: a paragraph a line, stanzas grouped by the source": (
        "<div class='poem'><h3>Ebb</h3><div class='stanza'><p>a</p><p>b</p></div>"
        "<div class='stanza'><p>c</p></div></div>",
        """
        Heading level=3: Ebb
        Verse
          VerseLine: a
          VerseLine: b
          VerseLine stanza=2: c
        """,
    ),
    "verse: numbers before and after the words of their lines [BF 15.7]": (
        "<div class='poem'><p><span class='linenum'>5</span> One<br/><span class='i1'>two </span>"
        "<span class='linenum'>[6]</span><br/>and <i class='lnum'>7</i> three</p></div>",
        """
        Verse
          VerseLine number=5: One
          VerseLine level=2 number=[6]: two
          VerseLine number=7: and three
        """,
    ),
    "verse: a number whose line has no words is a line; a second number stays in its line": (
        "<div class='poem'><p>One <b class='linenum'>1</b><b class='linenum'>2</b><br/>"
        "<b class='linenum'>3</b></p></div>",
        """
        Verse
          VerseLine number=1: One <bold|2>
          VerseLine: 3
        """,
    ),
    "numbers of lines outside verse, and what is no number, stay where they stand": (
        "<p>One <span class='linenum'>5</span></p>"
        "<p class='poem'>Two <span class='linenum'>not a number</span></p>",
        """
        Paragraph: One 5
        Verse
          VerseLine: Two not a number
        """,
    ),
    "verse: two line ends in a row begin a stanza": (
        "<p class='poem'>a<br/>b<br/><br/>c</p>",
        """
        Verse
          VerseLine: a
          VerseLine: b
          VerseLine stanza=2: c
        """,
    ),
    "a play set as a table": (
        "<table><tr><td epub:type='z3998:persona'>Pilot</td><td>Ebb!</td></tr>"
        "<tr><td/><td><i>Exit.</i></td></tr></table>",
        """
        Speech: Pilot
          Paragraph: Ebb!
        Paragraph role=stage-direction: <italic|Exit.>
        """,
    ),
    "a play set in paragraphs": (
        "<p><b class='speaker'>Pilot.</b> Ebb!</p><p>(He and <b class='speaker'>Mate</b> go.)</p>",
        """
        Speech: <bold|Pilot.>
          Paragraph: Ebb!
        Paragraph: (He and <bold|Mate> go.)
        """,
    ),
    # ---------------------------------------------------------- tables
    "a table: caption, head, spans, foot printed last [HTML 4.9]": (
        "<table><caption>Tides</caption><tfoot><tr><td>all</td><td>9</td></tr></tfoot>"
        "<thead><tr><th>Day</th><th>m</th></tr></thead>"
        "<tr><td rowspan='0'>1</td><td colspan='2'>4</td></tr><tr><td>5</td></tr></table>",
        """
        Table
          Paragraph role=caption: Tides
          TableRow head=True
            TableEntry head=True
              Paragraph: Day
            TableEntry head=True
              Paragraph: m
          TableRow
            TableEntry rows=3
              Paragraph: 1
            TableEntry columns=2
              Paragraph: 4
          TableRow
            TableEntry
              Paragraph: 5
          TableRow
            TableEntry
              Paragraph: all
            TableEntry
              Paragraph: 9
        """,
    ),
    "a first row of th is a head; a page turn between entries stands before its row": (
        "<table><tr><th>a</th><th>b</th></tr>"
        "<tr><span epub:type='pagebreak' title='9'/><td>c</td></tr></table>",
        """
        Table
          TableRow head=True
            TableEntry head=True
              Paragraph: a
            TableEntry head=True
              Paragraph: b
          PrintPage label=9
          TableRow
            TableEntry
              Paragraph: c
        """,
    ),
    "a table that only lays out text": (
        "<table role='presentation'><tr><td>a</td><td><p>b</p></td></tr></table>"
        "<table><tr><td>c</td></tr></table>",
        """
        Paragraph: a
        Paragraph: b
        Paragraph: c
        """,
    ),
    # ---------------------------------------------------------- pictures, mathematics, forms
    "figure with caption": (
        "<figure><img src='a.png' alt='A buoy'/><figcaption>Fig. 1</figcaption></figure>",
        """
        Graphic: A buoy
          Paragraph role=caption: Fig. 1
        """,
    ),
    "picture in a line, picture alone": (
        "<p>See <img src='a.png' alt='a bell'/> here.</p><p><img src='b.png' alt=''/></p>",
        """
        Paragraph: See [InlineGraphic a bell] here.
        Graphic
        """,
    ),
    "figure around a table": (
        "<figure><table><tr><td>a</td><td>b</td></tr></table><figcaption>T</figcaption></figure>",
        """
        Table
          Paragraph role=caption: T
          TableRow
            TableEntry
              Paragraph: a
            TableEntry
              Paragraph: b
        """,
    ),
    "drawing: title first, words as labels": (
        "<svg xmlns='http://www.w3.org/2000/svg'><text>mast</text><title>A boat</title></svg>",
        """
        Graphic: A boat
          Paragraph role=label: mast
        """,
    ),
    "expressions: in a line, alone, displayed": (
        f"<p>so <math {MATHML}><mi>x</mi><mo>=</mo><mn>2</mn></math>.</p>"
        f"<p><math {MATHML} alttext='y'/></p>"
        f"<p>then <math {MATHML} display='block'><mn>3</mn></math></p>",
        """
        Paragraph: so [MathRun x=2].
        DisplayMath: y
        Paragraph: then
        DisplayMath: 3
        """,
    ),
    "annotations of an expression are twins, not text [EPUB 3.3, 6.1.4.1]": (
        f"<math {MATHML}><semantics><mi>x</mi>"
        "<annotation encoding='TeX'>\\xi</annotation></semantics></math>",
        "DisplayMath: x",
    ),
    "form fields": (
        "<form><label>Name <input type='text' name='n' placeholder='you'/></label>"
        "<input type='checkbox' checked=''/>ebb <input type='radio'/>flow "
        "<select name='s'><option>red</option><option>green</option></select>"
        "<textarea>why</textarea> <input type='submit' value='Send'/></form>",
        "Paragraph: Name [line you][checked ]ebb [check ]flow [choice red green]why Send",
    ),
    "switch: the first case, not the default": (
        "<p><epub:switch><epub:case><b>new</b></epub:case>"
        "<epub:default>old</epub:default></epub:switch></p>",
        "Paragraph: <bold|new>",
    ),
    "switch: a case in a vocabulary nobody reads gives way": (
        "<p><epub:switch><epub:case required-namespace='http://chem.example/'>raw</epub:case>"
        "<epub:default>H2O</epub:default></epub:switch></p>",
        "Paragraph: H2O",
    ),
    "a row span of 0 ends with its group": (
        "<table><tbody><tr><td rowspan='0'>a</td><td>b</td></tr><tr><td>c</td></tr></tbody>"
        "<tfoot><tr><td>d</td><td>e</td></tr></tfoot></table>",
        """
        Table
          TableRow
            TableEntry rows=2
              Paragraph: a
            TableEntry
              Paragraph: b
          TableRow
            TableEntry
              Paragraph: c
          TableRow
            TableEntry
              Paragraph: d
            TableEntry
              Paragraph: e
        """,
    ),
    "ARIA roles are as good as elements": (
        "<div role='list'><div role='listitem'>ebb</div></div><div role='table'><div role='row'>"
        "<span role='columnheader'>Tide</span><span role='cell'>high</span></div></div>"
        "<div role='separator'></div><p><span role='img' aria-label='star'></span>b</p>",
        """
        ListBlock kind=plain
          ListItem
            Paragraph: ebb
        Table
          TableRow
            TableEntry head=True
              Paragraph: Tide
            TableEntry
              Paragraph: high
        ContextBreak
        Paragraph: [InlineGraphic star]b
        """,
    ),
    "terms of notes in the margin, producer's notes, addresses": (
        "<aside epub:type='marginalia'><p>a</p></aside><div epub:type='z3998:production-note'>"
        "<p>b</p></div><p epub:type='z3998:recipient'>c</p><p epub:type='bridgehead'>d</p>",
        """
        Footnote kind=foot id=OEBPS/c1.xhtml!/4/2
          Paragraph: a
        TranscriberNote
          Paragraph: b
        Paragraph role=address: c
        Heading: d
        """,
    ),
    "the number of a page mark in brackets": (
        "<p>a <span class='pagenum'>[Pg 9]</span>b</p>",
        "Paragraph: a [p 9]b",
    ),
    "an element no row knows keeps its text": (
        "<tidebox><p>Ebb</p></tidebox><p>a <gauge>b</gauge></p>",
        """
        Unknown tag=tidebox
          Paragraph: Ebb
        Paragraph: a b
        """,
    ),
    "DTBook, which EPUB 2 allowed [OPF 2.0.1]": (
        "<level1><linegroup><line>One</line><line>two</line></linegroup>"
        "<pagenum>7</pagenum></level1>",
        """
        Section
          Verse
            VerseLine: One
            VerseLine: two
          PrintPage label=7
        """,
    ),
}


def tree(folder: Path, body: str, findings: Findings | None = None) -> str:
    return draw(read_epub(epub(folder, body), findings))


@pytest.mark.parametrize("title", CASES)
def test_body_to_tree(tmp_path: Path, title: str) -> None:
    body, expected = CASES[title]
    assert tree(tmp_path, body) == dedent(expected).strip()


# ---------------------------------------------------------------- findings

TOLD = {
    "read.aria-hidden": '<p>a <span aria-hidden="true">b</span></p>',
    "read.picture-described-elsewhere": (
        "<p><img src='a.png' alt='b' aria-describedby='d'/></p><p id='d'>It is red.</p>"
    ),
    "read.picture-description": (
        "<p><img src='a.png' alt='b' aria-details='d'/></p><p hidden='' id='d'>c</p>"
    ),
    "read.picture-description-missing": "<p><img src='a.png' alt='b' longdesc='d.xhtml'/></p>",
    "read.unknown-element": "<gauge>9</gauge>",
    "read.heading-guessed": "<p class='chapter-title'>Ebb</p>",
    "read.layout-table": "<table><tr><td>a</td></tr></table>",
    "read.picture-without-alt": "<p>a <img src='a.png'/></p>",
    "read.picture-poor-alt": "<p>a <img src='a.png' alt='IMG_2.png'/></p>",
    "maths.picture": "<p>a <img src='a.png' class='equation' alt='x squared'/></p>",
    "maths.picture-without-words": "<p>a <img src='a.png' role='math' alt=''/></p>",
    "read.media": "<p>a <video src='a.mp4'>No film.</video></p>",
    "read.script": "<p>a</p><script>x()</script>",
    "read.ruby": "<p><ruby>潮<rt>ushio</rt></ruby></p>",
    "read.hidden-text": "<p>a</p><p hidden=''>b</p>",
    "read.backlink": "<p>a <a role='doc-backlink' href='#x'>back</a></p>",
    "read.navigation": "<p>a</p><nav epub:type='landmarks'><ol><li>b</li></ol></nav>",
    "read.running-head-text": "<p>a</p><div role='doc-pageheader'>TIDES</div>",
    "read.alternative": CASES["switch: the first case, not the default"][0],
    "read.page-number-text": "<p>a <span role='doc-pagebreak'>9</span>b</p>",
    "read.filled-field": "<p>Name <input type='text' value='Ann'/></p>",
    "read.script-formula": "<p>a</p><script type='math/tex'>x^2</script>",
    "read.repeated-matter": "<p>a</p><div epub:type='condensed-entry'>b</div>",
    "read.unknown-term": "<p>a</p><div epub:type='logbook'>b</div>",
    "read.computed-content": "<ol style='list-style-type: tally'><li>a</li></ol>",
    "read.pages-by-names": "".join(f"<p id='page_{n}'>a</p>" for n in range(1, 6)),
    "read.page-label-from-id": "<p>a <span role='doc-pagebreak' id='page12'/>b</p>",
}


@pytest.mark.parametrize("kind", TOLD)
def test_what_is_told(tmp_path: Path, kind: str) -> None:
    findings = Findings()
    tree(tmp_path, TOLD[kind], findings)
    assert kinds(findings) == [kind]


@pytest.mark.parametrize(
    ("alt", "poor"),
    [
        ("Alt text to come.", True),
        ("Description pending", True),
        ("Add alt text here", True),
        ("Alternative routes to the harbour", False),
        ("A description of the needle", False),
    ],
)
def test_a_description_that_is_only_promised_is_poor(tmp_path: Path, alt: str, poor: bool) -> None:
    """Braille Formats 2016, section 6: such words say nothing of the picture."""
    findings = Findings()
    tree(tmp_path, f"<p>a <img src='a.png' alt='{alt}'/></p>", findings)
    assert ("read.picture-poor-alt" in kinds(findings)) is poor


def test_text_outside_the_body_is_told(tmp_path: Path) -> None:
    from .make import page

    findings = Findings()
    odd = page("<p>a</p>").replace("</body>", "</body>stray")
    document = read_epub(epub(tmp_path, odd), findings)
    assert draw(document) == "Paragraph: a"
    assert kinds(findings) == ["read.stray-text"]
    assert "left out: “stray”, in 1 place." in findings.all()[0].message
    assert document.ledger.text == "a\nstray\n"


def test_a_huge_table_is_read_as_text(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from dataclasses import replace

    from convert.readers import xhtml_tables

    small = replace(xhtml_tables.LIMITS, entries_in_table=3)
    monkeypatch.setattr(xhtml_tables, "LIMITS", small)
    findings = Findings()
    body = "<table><tr><td>a</td><td>b</td></tr><tr><td>c</td><td>d</td></tr></table>"
    assert tree(tmp_path, body, findings).count("Paragraph") == 4
    assert kinds(findings) == ["read.table-too-big"]


def test_spans_are_clipped(tmp_path: Path) -> None:
    body = "<table><tr><td colspan='1000000' rowspan='99'>a</td><td>b</td></tr></table>"
    assert "TableEntry columns=1000" in tree(tmp_path, body).splitlines()[2]


# ---------------------------------------------------------------- the ledger


def test_every_piece_says_where_it_stands(tmp_path: Path) -> None:
    """EPUB CFI steps: elements even, text nodes odd; offsets into the text node."""
    body = "<p>One <b>two</b>  three\n   four</p>"
    document = read_epub(epub(tmp_path, body))
    ledger = document.ledger
    assert ledger.text == "One two three four\n"
    at = ledger.text.index
    assert ledger.address(0) == "OEBPS/c1.xhtml!/4/2/1:0"
    assert ledger.address(at("two")) == "OEBPS/c1.xhtml!/4/2/2/1:0"
    assert ledger.address(at("three")) == "OEBPS/c1.xhtml!/4/2/3:2"
    assert ledger.address(at("four")) == "OEBPS/c1.xhtml!/4/2/3:11"


def test_generated_print_is_marked_as_such(tmp_path: Path) -> None:
    document = read_epub(epub(tmp_path, "<ol><li>a</li></ol><p><q>b</q></p>"))
    made = [
        document.ledger.text[p.start : p.end]
        for p in document.ledger.pieces
        if p.kind == "generated"
    ]
    assert made == ["1.", "“", "”"]


def addresses(document: Document) -> list[str]:
    return [
        address
        for child in document.children
        for node in nodes.walk(child)
        if (address := getattr(node, "address", None)) is not None
    ]


def test_addresses_are_unique(tmp_path: Path) -> None:
    whole = "".join(body for body, _ in CASES.values())
    found = addresses(read_epub(epub(tmp_path, whole, whole)))
    assert all(found)
    assert len(found) == len(set(found))


@pytest.mark.parametrize(
    ("opening", "closing"),
    [
        ("<div>", "</div>"),
        ("<blockquote>", "</blockquote>"),
        ("<ul><li>", "</li></ul>"),
        ("<table><tr><th>", "</th></tr></table>"),
        ("<section>", "</section>"),
        ("<b>", "</b>"),
        ("<aside>", "</aside>"),
        ("<figure>", "</figure>"),
    ],
)
@pytest.mark.parametrize("depth", [70, 240])
def test_deep_nesting_is_flattened_and_told(
    tmp_path: Path, opening: str, closing: str, depth: int
) -> None:
    findings = Findings()
    body = "<p>a</p>" + opening * depth + "sea" + closing * depth + "<p>z</p>"
    document = read_epub(epub(tmp_path, body), findings)
    assert "".join(document.ledger.text.replace("•", "").split()) == "aseaz"
    flat = opening in ("<div>", "<b>") and depth < 100
    assert ("read.nested-too-deep" in kinds(findings)) is not flat
    assert max(line.count("  ") for line in draw(document).splitlines()) < 160


@pytest.mark.parametrize("words", ["Ebb", "  Ebb and\tflow ", "Ebb\n  flow", "\u00a0", "* *", " "])
def test_the_short_way_makes_what_the_long_way_makes(tmp_path: Path, words: str) -> None:
    """A paragraph of one text node is read by a short way; an empty element forces the long."""
    short = read_epub(epub(tmp_path, f"<p>x</p><p>{words}</p>"))
    long = read_epub(epub(tmp_path, f"<p>x</p><p>{words}<wbr/></p>"))
    if words != "* *":
        assert draw(short) == draw(long)
    assert short.ledger.text == long.ledger.text
    assert tuple(short.ledger.pieces) == tuple(long.ledger.pieces)
