package report

import (
	"strings"
	"testing"
)

// inText is what is told, as text.
func inText(t *testing.T, of func(teller)) string {
	t.Helper()
	var b strings.Builder
	p := newPage(&b)
	of(p)
	if err := p.close(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}
