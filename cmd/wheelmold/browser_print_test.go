//go:build browser

package main

import (
	"context"
	"encoding/xml"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// paperSize is what a printer takes. Points are 1/72 inch.
type paperSize struct {
	name string
	size chromedp.PaperSize // inches
}

var papers = []paperSize{{"A4", chromedp.PaperA4}, {"Letter", chromedp.PaperLetter}}

// checkPrint prints the page, and the bench sheet alone, and reads the PDF with an
// outside program.
func checkPrint(t *testing.T, browser context.Context, r *built) {
	p := open(t, browser, r.page, desk)
	p.drawn()
	for _, paper := range papers {
		t.Run(paper.name, func(t *testing.T) {
			doc := p.print(t, paper)
			checkOrder(t, doc)
			checkMargins(t, doc)
			checkSheetPage(t, p, doc)
			p.printing(paper, func() {
				checkWhole(t, p, doc)
				checkScale(t, p, paper)
			})
		})
	}
	checkSheetButton(t, p)
}

// document is what an outside program reads in a PDF.
type document struct {
	Pages []struct {
		Width float64 `xml:"width,attr"` // points
		Words []struct {
			XMin float64 `xml:"xMin,attr"`
			XMax float64 `xml:"xMax,attr"`
			Text string  `xml:",chardata"`
		} `xml:"word"`
	} `xml:"body>doc>page"`
	lines []string // of all pages
	text  string   // without white space
}

// words are those of one page.
func (d *document) words(page int) (out []string) {
	for _, w := range d.Pages[page].Words {
		out = append(out, w.Text)
	}
	return out
}

// print prints as a person does who changes nothing in the dialog but the paper.
func (p *tab) print(t *testing.T, on paperSize) *document {
	t.Helper()
	pdf, err := chromedp.Run(p.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(on.size), chromedp.PDFPreferCSSPageSize(), chromedp.PDFPrintBackground()))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "report.pdf")
	if err := os.WriteFile(path, pdf, 0o666); err != nil {
		t.Fatal(err)
	}
	d := &document{}
	decoder := xml.NewDecoder(strings.NewReader(strings.ToValidUTF8(pdftotext(t, "-bbox", path), "?")))
	decoder.Strict, decoder.Entity = false, xml.HTMLEntity
	if err := decoder.Decode(d); err != nil {
		t.Fatal(err)
	}
	text := pdftotext(t, path)
	for line := range strings.Lines(text) {
		d.lines = append(d.lines, strings.Trim(line, "\f \n"))
	}
	d.text = squeeze(text)
	t.Logf("%d pages", len(d.Pages))
	return d
}

func pdftotext(t *testing.T, args ...string) string {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), waitLimit)
	defer cancel()
	out, err := exec.CommandContext(ctx, "pdftotext", append(args, "-")...).Output()
	if err != nil {
		t.Fatalf("pdftotext: %v (install poppler-utils)", err)
	}
	return string(out)
}

// squeeze takes out white space, and hyphens too: pdftotext drops those at the end of
// a line.
func squeeze(s string) string {
	return strings.ReplaceAll(strings.Join(strings.Fields(s), ""), "-", "")
}

// checkOrder: the headings follow one another, and no page is empty.
func checkOrder(t *testing.T, d *document) {
	rest := d.lines
	for _, heading := range []string{"What will happen", "The mold in 3D", "Drawings", "Parting lines", "Pour", "Pieces and hardware", "Notes"} {
		at := slices.Index(rest, heading)
		if at < 0 {
			t.Errorf("heading %q is not printed, or not in its order", heading)
			continue
		}
		rest = rest[at+1:]
	}
	for i := range d.Pages {
		if n := len(d.Pages[i].Words); n < 5 {
			t.Errorf("page %d has %d words: %v", i+1, n, d.words(i))
		}
	}
}

// least is the least margin in points: 9 mm, less what letters reach out of their
// box.
const least = 9/25.4*72 - 1

// checkMargins: nothing reaches into the margins at the sides, where a printer would cut it off.
func checkMargins(t *testing.T, d *document) {
	for i, page := range d.Pages {
		for _, w := range page.Words {
			if w.XMin < least || w.XMax > page.Width-least {
				t.Errorf("page %d: %q reaches from %.0f to %.0f of %.0f points", i+1, w.Text, w.XMin, w.XMax, page.Width)
			}
		}
	}
}

// written are all pieces of text of the page that can be seen. Those of a drawing,
// which stand close, come word by word; oblique ones, which pdftotext takes apart, do
// not.
const written = `(() => {
	const out = [], walk = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
	while (walk.nextNode()) {
		const e = walk.currentNode.parentElement;
		if (!e.checkVisibility() || e.closest("[role=tooltip], script, style, option, title, desc")) continue;
		const turned = /rotate\((-?[\d.]+)/.exec(e.getAttribute("transform"));
		if (turned && turned[1] % 90 !== 0) continue;
		out.push(...(e.closest("svg") ? walk.currentNode.data.split(/\s+/) : [walk.currentNode.data]));
	}
	return out;
})()`

// checkWhole: all text is printed, to its last letter.
func checkWhole(t *testing.T, p *tab, d *document) {
	texts := eval[[]string](p, written)
	if len(texts) < 200 {
		t.Fatalf("%d texts: too few to mean anything", len(texts))
	}
	lost := 0
	for _, text := range texts {
		if !strings.Contains(d.text, squeeze(text)) {
			lost++
			if lost <= 5 {
				t.Errorf("not printed whole: %q", clip(text))
			}
		}
	}
	if lost > 5 {
		t.Errorf("and %d more of %d", lost-5, len(texts))
	}
	if n := eval[int](p, `document.querySelectorAll("#notes li").length`); n < 15 {
		t.Errorf("%d notes", n)
	}
}

// checkSheetPage: the bench sheet is a page of its own, whole, with nothing else.
func checkSheetPage(t *testing.T, p *tab, d *document) {
	var at []int
	for i := range d.Pages {
		if text := squeeze(strings.Join(d.words(i), " ")); strings.Contains(text, "SAFETY") || strings.Contains(text, "WRITEDOWN") {
			at = append(at, i)
		}
	}
	if len(at) != 1 {
		t.Fatalf("the bench sheet is on pages %v, counted from 0", at)
	}
	p.isSheet(t, d, at[0])
}

// isSheet compares one page with the bench sheet, letter for letter in any order.
func (p *tab) isSheet(t *testing.T, d *document, page int) {
	t.Helper()
	want := eval[string](p, `[...document.querySelectorAll("#bench-sheet > :not(h2)")].map(e => e.innerText).join(" ")`)
	for _, word := range []string{"SAFETY", "WRITE DOWN"} {
		if !strings.Contains(want, word) {
			t.Errorf("the sheet has no %s", word)
		}
	}
	got, all := letters(strings.Join(d.words(page), "")), letters(want)
	if got != all {
		t.Errorf("the sheet's page lacks the letters %q and has %q too many; it says %q", missing(all, got), missing(got, all), clip(strings.Join(d.words(page), " ")))
	}
}

// letters sorts the letters and digits of a text: a reader of a PDF may take rows
// of a table in another order, and boxes to tick may be pictures.
func letters(s string) string {
	r := []rune(strings.ReplaceAll(squeeze(s), "☐", ""))
	slices.Sort(r)
	return string(r)
}

// missing are letters of one sorted text that another has not.
func missing(of, in string) string {
	var out []rune
	rest := []rune(in)
	for _, c := range of {
		if i, found := slices.BinarySearch(rest, c); found {
			rest = slices.Delete(rest, i, i+1)
		} else {
			out = append(out, c)
		}
	}
	return string(out)
}

// margin is that of pages other than the sheet's, in inches.
const margin = 12 / 25.4

// checkScale: printed at 100 %, drawings have the size that they state, and fit on
// a page.
func checkScale(t *testing.T, p *tab, on paperSize) {
	type drawn struct {
		ID, Says      string
		Width, Stands float64 // CSS pixels
	}
	for _, s := range eval[[]drawn](p, `[...document.querySelectorAll("figure.drawing")].map(f => { const s = f.querySelector("svg"), r = s.getBoundingClientRect(); return {ID: f.id, Says: s.getAttribute("width") ?? "", Width: r.width, Stands: f.getBoundingClientRect().height} })`) {
		var mm float64
		if _, err := fmt.Sscanf(s.Says, "%fmm", &mm); err != nil {
			t.Errorf("drawing %s is %q wide: no millimeters", s.ID, s.Says)
			continue
		}
		if got := s.Width / 96 * 25.4; got < mm*0.998 || got > mm*1.002 {
			t.Errorf("drawing %s is printed %.1f mm wide and not %s", s.ID, got, s.Says)
		}
		if s.Stands > (on.size.Height-2*margin)*96 {
			t.Errorf("drawing %s is %.0f mm high with its caption: more than a page", s.ID, s.Stands/96*25.4)
		}
	}
}

// printing does something while the page is laid out as on paper.
func (p *tab) printing(on paperSize, do func()) {
	p.Helper()
	p.look(sight{width: int64((on.size.Width - 2*margin) * 96), height: int64((on.size.Height - 2*margin) * 96)})
	eval[bool](p, `dispatchEvent(new Event("beforeprint"))`)
	call(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
	do()
	eval[bool](p, `dispatchEvent(new Event("afterprint"))`)
	p.look(desk)
}

// checkSheetButton: the button prints the sheet and nothing else, and leaves the
// page as it was.
func checkSheetButton(t *testing.T, p *tab) {
	eval[bool](p, `(() => { window.was = []; window.print = () => { window.was.push(document.documentElement.classList.contains("only-sheet")) }; return true })()`)
	p.click(`button[data-print="sheet"]`)
	p.await("the sheet to be printed", `window.was.length === 1`)
	eval[bool](p, `dispatchEvent(new Event("afterprint"))`)
	p.await("the page to be whole again", `!document.documentElement.classList.contains("only-sheet")`)
	p.click(`button[data-print="all"]`)
	p.await("all to be printed", `window.was.length === 2`)
	if was := eval[[]bool](p, `window.was`); !was[0] || was[1] {
		t.Errorf("only the sheet is printed: %v, want true by its button, false by the other", was)
	}
	p.printsSheet(t)
}

// printsSheet fails unless the sheet alone takes one page.
func (p *tab) printsSheet(t *testing.T) {
	t.Helper()
	for _, paper := range papers {
		// The page takes it back after each print.
		eval[chromedp.Void](p, `document.documentElement.classList.add("only-sheet")`)
		d := p.print(t, paper)
		if len(d.Pages) != 1 {
			t.Errorf("the sheet takes %d pages of %s", len(d.Pages), paper.name)
			continue
		}
		p.isSheet(t, d, 0)
		checkMargins(t, d)
	}
	eval[chromedp.Void](p, `document.documentElement.classList.remove("only-sheet")`)
}
