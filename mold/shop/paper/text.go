package paper

import (
	"strings"
	"sync"
	"unicode"

	"github.com/go-pdf/fpdf"

	"wheelmold/mold/drawing"
	"wheelmold/mold/drawing/svg/element"
)

// Sizes of type, mm: capitals are 0.72 of it high, 2.5, 3.6 and 5 mm (ISO 3098).
const (
	typeSize    = drawing.TypeSize
	captionSize = 5.0
	titleSize   = 7.0
	linePitch   = 1.4 // from line to line, of the size
	capHeight   = 0.72
	descent     = 0.22
)

// stand for what common type lacks, or has in two forms.
var alike = strings.NewReplacer("⌀", "Ø", "∅", "Ø", "μ", "µ", "−", "-", "≤", "<= ", "≥", ">= ", "≈", "~", "⟂", "square to", "\t", " ", "\n", " ")

// clean makes a text of a job fit for one line: no control characters, no runs of
// blanks, no marks that pile up on a letter.
func clean(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Mn, r) {
			return -1
		}
		return r
	}, element.Clean(alike.Replace(s)))
	return strings.Join(strings.Fields(s), " ")
}

// widths are those of Helvetica's letters in Windows-1252, per 1 of the type's size:
// regular and bold. Arial's and those of other common faces are the same.
var widths = sync.OnceValue(func() *[2][256]float64 {
	var w [2][256]float64
	f := fpdf.New("P", "mm", "A4", "")
	for bold, style := range []string{"", "B"} {
		f.SetFont("Helvetica", style, 72)
		em := 72 / f.GetConversionRatio()
		for c := 32; c < 256; c++ {
			w[bold][c] = f.GetStringWidth(string([]byte{byte(c)})) / em
		}
	}
	return &w
})

// latin is a text in Windows-1252, with question marks for what that lacks.
var latin = sync.OnceValue(func() func(string) string {
	translate := fpdf.New("P", "mm", "A4", "").UnicodeTranslatorFromDescriptor("")
	return func(s string) string {
		var b strings.Builder
		for _, r := range s {
			if c := translate(string(r)); r < 128 || (len(c) == 1 && c != ".") {
				b.WriteString(c)
			} else {
				b.WriteByte('?')
			}
		}
		return b.String()
	}
})

// widthOf is how wide a line of type is, mm, signs that are drawn included.
func widthOf(s string, size float64, bold bool) (w float64) {
	table := widths()
	face := 0
	if bold {
		face = 1
	}
	for _, r := range s {
		switch c := latin()(string(r)); {
		case signs[r] != nil:
			w += signWidth
		case r >= 0x2e80:
			w += 1.05
		case c == "?" && r != '?':
			w += 0.85 // of a letter that only the reader's faces have
		default:
			w += table[face][c[0]]
		}
	}
	return w * size
}

// wrapped breaks a text into lines no wider than a width, mm. A word that is wider by
// itself is broken.
func wrapped(s string, size, width float64) (lines []string) {
	line := ""
	for _, word := range strings.Fields(clean(s)) {
		for line == "" && widthOf(word, size, false) > width {
			head := fitting(word, size, width)
			lines, word = append(lines, head), word[len(head):]
		}
		if next := strings.TrimSpace(line + " " + word); widthOf(next, size, false) <= width {
			line = next
			continue
		}
		lines, line = append(lines, line), ""
		for widthOf(word, size, false) > width {
			head := fitting(word, size, width)
			lines, word = append(lines, head), word[len(head):]
		}
		line = word
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// fitting is the beginning of a text that is no wider than a width: one letter at
// least.
func fitting(s string, size, width float64) string {
	w, end := 0.0, len(s)
	for i, r := range s {
		if w += widthOf(string(r), size, false); w > width && i > 0 {
			end = i
			break
		}
	}
	return s[:end]
}

// shortened is a text in a width, with dots at its end if that took something away.
func shortened(s string, size float64, bold bool, width float64) string {
	s = clean(s)
	if widthOf(s, size, bold) <= width {
		return s
	}
	r := []rune(s)
	for len(r) > 0 && widthOf(string(r)+"…", size, bold) > width {
		r = r[:len(r)-1]
	}
	return strings.TrimSpace(string(r)) + "…"
}
