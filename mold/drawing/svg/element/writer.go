// Package element writes the elements of an SVG: tags whose attributes and texts are
// escaped, and path data of outlines in millimeters of paper, which is what pictures
// of any kind have in common.
package element

import (
	"bytes"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Clean takes out what XML cannot hold or a reader cannot see: invalid UTF-8 and
// control characters.
func Clean(s string) string {
	return strings.Map(func(r rune) rune {
		if r == utf8.RuneError || unicode.IsControl(r) || !unicode.IsGraphic(r) {
			return -1
		}
		return r
	}, s)
}

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "'", "&#39;")

// Escape makes any text fit for an attribute or an element's content.
func Escape(s string) string { return escaper.Replace(Clean(s)) }

// Writer collects elements.
type Writer struct {
	bytes.Buffer
}

// Empty writes an element without content; attributes come as pairs of name and
// value, and values are escaped.
func (w *Writer) Empty(name string, attributes ...string) { w.Tag(name, "/>\n", attributes) }

// Open writes an element's start.
func (w *Writer) Open(name string, attributes ...string) { w.Tag(name, ">\n", attributes) }

// Close writes an element's end.
func (w *Writer) Close(name string) { fmt.Fprintf(w, "</%s>\n", name) }

// Text writes an element that holds nothing but text.
func (w *Writer) Text(name, content string, attributes ...string) {
	w.Tag(name, ">", attributes)
	fmt.Fprintf(w, "%s</%s>\n", Escape(content), name)
}

// Tag writes an element's start with the given end of its tag.
func (w *Writer) Tag(name, end string, attributes []string) {
	w.WriteString("<" + name)
	for i := 0; i+1 < len(attributes); i += 2 {
		fmt.Fprintf(w, ` %s="%s"`, attributes[i], Escape(attributes[i+1]))
	}
	w.WriteString(end)
}
