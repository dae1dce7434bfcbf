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

// Most that texts of views may take, mm: what is longer is shortened.
const (
	markWidth    = 25.0
	letterWidth  = 12.0
	dimWidth     = 90.0
	calloutWidth = 90.0 // lines of call-outs are wrapped instead
	captionWidth = 160.0
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

// letter is one of Windows-1252, with its width in Helvetica per 1 of the type's size,
// regular and bold. Arial and other common faces have the same widths.
type letter struct {
	code  byte
	width [2]float64
}

// beyondLatin1 are the letters that Windows-1252 has and Latin-1 has not.
const beyondLatin1 = "€‚ƒ„…†‡ˆ‰Š‹ŒŽ‘’“”•–—˜™š›œžŸ"

// letters are those that a PDF can show without a face of its own.
var letters = sync.OnceValue(func() map[rune]letter {
	f := fpdf.New("P", "mm", "A4", "")
	translate := f.UnicodeTranslatorFromDescriptor("")
	all := map[rune]letter{}
	add := func(r rune) {
		if s := translate(string(r)); len(s) == 1 {
			all[r] = letter{code: s[0]}
		}
	}
	for r := ' '; r <= '~'; r++ {
		add(r)
	}
	for r := rune(0xa0); r <= 0xff; r++ {
		add(r)
	}
	for _, r := range beyondLatin1 {
		add(r)
	}
	for face, style := range []string{"", "B"} {
		f.SetFont("Helvetica", style, 0)
		f.SetFontUnitSize(1)
		for r, l := range all {
			l.width[face] = f.GetStringWidth(string([]byte{l.code}))
			all[r] = l
		}
	}
	return all
})

// Lacks tells whether a PDF cannot show all letters of a text; an SVG can.
func Lacks(text string) bool {
	all := letters()
	return strings.ContainsFunc(text, func(r rune) bool {
		_, known := all[r]
		return !known
	})
}

// latin is a text in Windows-1252, with question marks for what that lacks.
func latin(s string) string {
	all := letters()
	var b strings.Builder
	for _, r := range s {
		if l, ok := all[r]; ok {
			b.WriteByte(l.code)
		} else {
			b.WriteByte('?')
		}
	}
	return b.String()
}

// widthOf is how wide a line of type is, mm, signs that are drawn included.
func widthOf(s string, size float64, bold bool) (w float64) {
	all, face := letters(), 0
	if bold {
		face = 1
	}
	for _, r := range s {
		l, ok := all[r]
		switch {
		case ok:
			w += l.width[face]
		case signs[r] != nil:
			w += signWidth
		case r >= 0x2e80:
			w += 1.05
		default:
			w += 0.85 // a letter that only the reader's faces have
		}
	}
	return w * size
}

// wrapped breaks a text into lines no wider than a width, mm. A word that is wider by
// itself is broken.
func wrapped(s string, size, width float64) (lines []string) {
	width += 1e-6 // the width of the text itself has room for it
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
	if widthOf(s, size, bold) <= width+1e-6 {
		return s
	}
	r := []rune(s)
	for len(r) > 0 && widthOf(string(r)+"…", size, bold) > width {
		r = r[:len(r)-1]
	}
	return strings.TrimSpace(string(r)) + "…"
}
