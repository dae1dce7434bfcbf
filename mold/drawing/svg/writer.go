package svg

import (
	"bytes"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// clean takes out what XML cannot hold or a reader cannot see: invalid UTF-8 and
// control characters.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		if r == utf8.RuneError || unicode.IsControl(r) || !unicode.IsGraphic(r) {
			return -1
		}
		return r
	}, s)
}

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "'", "&#39;")

func escape(s string) string { return escaper.Replace(clean(s)) }

// ink collects elements.
type ink struct {
	bytes.Buffer
}

// element writes an element without content; attributes come as pairs of name and
// value, and values are escaped.
func (w *ink) element(name string, attributes ...string) { w.tag(name, "/>\n", attributes) }

// open writes an element's start.
func (w *ink) open(name string, attributes ...string) { w.tag(name, ">\n", attributes) }

func (w *ink) close(name string) { fmt.Fprintf(w, "</%s>\n", name) }

// text writes an element that holds nothing but text.
func (w *ink) text(name, content string, attributes ...string) {
	w.tag(name, ">", attributes)
	fmt.Fprintf(w, "%s</%s>\n", escape(content), name)
}

func (w *ink) tag(name, end string, attributes []string) {
	w.WriteString("<" + name)
	for i := 0; i+1 < len(attributes); i += 2 {
		fmt.Fprintf(w, ` %s="%s"`, attributes[i], escape(attributes[i+1]))
	}
	w.WriteString(end)
}
