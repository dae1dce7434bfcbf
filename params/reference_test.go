package params

import (
	"bytes"
	"strings"
	"testing"
)

// Every value has its line, with as many cells as the head.
func TestReferenceListsEveryValue(t *testing.T) {
	j, err := Default(90, 40, 12, "")
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := WriteReference(&b, j); err != nil {
		t.Fatal(err)
	}
	lines := 0
	for _, line := range strings.Split(b.String(), "\n") {
		if strings.HasPrefix(line, "| `") {
			lines++
		}
		if strings.HasPrefix(line, "|") && strings.Count(line, "|") != 5 {
			t.Errorf("not four cells: %s", line)
		}
	}
	if want := len(table) - 3; lines != want { // the three arrays are sections
		t.Errorf("%d lines, want %d", lines, want)
	}
}
