package tabular

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

// sample has a row that failed, a figure that one row lacks, a column for people
// alone and one for programs alone, and texts that CSV has to quote.
func sample() *Table {
	return &Table{
		Title: "heron",
		Lead:  []Column{{Head: "size", Keys: []string{"size_mm"}}},
		Columns: []Column{
			{Head: "mass", Keys: []string{"mass_g"}},
			{Head: "box", Keys: []string{"x_mm", "y_mm"}, Block: 1},
			{Keys: []string{"why"}, Block: 1},
			{Head: "in words", Block: 1},
		},
		Rows: []Row{
			{Name: "small", Mark: " (own)", Lead: []Cell{{[]any{0.1}, "0.1 mm"}}, Cells: []Cell{
				{[]any{12.5}, "12.5 g"}, {[]any{1.0, 2.0}, "1 x 2"}, {[]any{"a, \"b\""}, "hidden"}, {nil, "fine"},
			}, Warnings: []string{"mind"}},
			{Name: "large", Lead: []Cell{{[]any{1e7}, "1e7 mm"}}, Faults: []string{"too large", "too heavy"}},
			{Name: "odd", Lead: []Cell{{[]any{3.0}, "3 mm"}}, Cells: []Cell{
				{[]any{nil}, "-"}, {[]any{3.0, 4.0}, "3 x 4"}, {[]any{""}, ""}, {nil, "so"},
			}},
		},
		Notes: []string{"a note"},
	}
}

func TestText(t *testing.T) {
	var b strings.Builder
	if err := sample().WriteText(&b); err != nil {
		t.Fatal(err)
	}
	want := `heron

size          mass
0.1 mm (own)  12.5 g
1e7 mm        -
3 mm          -

size          box    in words
0.1 mm (own)  1 x 2  fine
1e7 mm        -      -
3 mm          3 x 4  so

not made:
  large
    - too large
    - too heavy

a note
`
	if b.String() != want {
		t.Errorf("got\n%s", &b)
	}
}

func TestFold(t *testing.T) {
	for _, c := range []struct {
		text  string
		width int
		want  string
	}{
		{"a bb ccc", 4, "a bb|ccc"},
		{"µµµµ b", 4, "µµµµ|b"},
		{"toolongword b", 4, "toolongword|b"},
		{"", 4, ""},
	} {
		if got := strings.Join(Fold(c.text, c.width), "|"); got != c.want {
			t.Errorf("%q: %q, want %q", c.text, got, c.want)
		}
	}
}

// No line of a table is wider than a page: what does not fit goes on in a further table,
// led by the same names, and long texts are folded under their head, after the figures.
func TestLinesFitAPage(t *testing.T) {
	long := strings.Repeat("so it is ", 20)
	x := &Table{Title: "heron", Lead: []Column{{Head: "split", Keys: []string{"split"}}}, Columns: []Column{
		{Head: "verdict", Keys: []string{"verdict"}, Wrap: true}, {Head: "a"}, {Head: "b"}, {Head: "c"},
	}}
	for _, name := range []string{"clam", "cup"} {
		wide := Cell{nil, strings.Repeat("µ", 45)}
		x.Rows = append(x.Rows, Row{Name: name, Lead: []Cell{{[]any{name}, name}}, Cells: []Cell{{[]any{long}, long}, wide, wide, {nil, "end"}}})
	}
	var b strings.Builder
	if err := x.WriteText(&b); err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(b.String()) {
		if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > pageWidth {
			t.Errorf("%d wide: %s", n, line)
		}
	}
	u := strings.Repeat("µ", 45)
	for _, want := range []string{
		"split  a" + strings.Repeat(" ", 46) + "b\nclam   " + u + "  " + u + "\n", "split  c    verdict\nclam   end  so it is", "\n            is so", "\ncup    end  so it is",
	} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("%q is missing in\n%s", want, &b)
		}
	}
	words := slices.DeleteFunc(strings.Fields(b.String()), func(w string) bool { return w != "so" })
	if len(words) != 40 {
		t.Errorf("%d of 40 times what the verdict says:\n%s", len(words), &b)
	}
	b.Reset()
	if err := x.WriteCSV(&b); err != nil || !strings.HasPrefix(b.String(), "split,verdict,") {
		t.Errorf("the columns of programs are out of order: %s", &b)
	}
}

func TestBriefTellsTheFirstFault(t *testing.T) {
	x := sample()
	x.Brief = true
	var b strings.Builder
	if err := x.WriteText(&b); err != nil {
		t.Fatal(err)
	}
	if s := b.String(); !strings.Contains(s, "    - too large (and 1 more, see --format json)\n") || strings.Contains(s, "heavy") {
		t.Errorf("got\n%s", s)
	}
}

// A reader of CSV gets every value back, in full precision and without an exponent.
func TestCSV(t *testing.T) {
	var b strings.Builder
	if err := sample().WriteCSV(&b); err != nil {
		t.Fatal(err)
	}
	got, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := [][]string{
		{"size_mm", "mass_g", "x_mm", "y_mm", "why", "warnings", "fault"},
		{"0.1", "12.5", "1", "2", `a, "b"`, "1", ""},
		{"10000000", "", "", "", "", "0", "too large"},
		{"3", "", "3", "4", "", "0", ""},
	}
	if !slices.EqualFunc(got, want, slices.Equal[[]string]) {
		t.Errorf("got %q", got)
	}
}

// In JSON keys keep the order of the columns, and what is missing is null.
func TestJSON(t *testing.T) {
	got, err := json.Marshal(sample())
	if err != nil {
		t.Fatal(err)
	}
	want := `[{"name":"small","values":{"size_mm":0.1},"figures":{"mass_g":12.5,"x_mm":1,"y_mm":2,"why":"a, \"b\""},"faults":[],"warnings":["mind"]},` +
		`{"name":"large","values":{"size_mm":10000000},"figures":null,"faults":["too large","too heavy"],"warnings":[]},` +
		`{"name":"odd","values":{"size_mm":3},"figures":{"mass_g":null,"x_mm":3,"y_mm":4,"why":""},"faults":[],"warnings":[]}]`
	if string(got) != want {
		t.Errorf("got %s", got)
	}
	if got, err := json.Marshal(&Table{}); err != nil || string(got) != "[]" {
		t.Errorf("no rows are %s, %v", got, err)
	}
}

// deaf takes nothing.
type deaf struct{}

func (deaf) Write([]byte) (int, error) { return 0, errors.New("deaf") }

// What does not reach its reader is an error.
func TestDeafReader(t *testing.T) {
	if sample().WriteText(deaf{}) == nil || sample().WriteCSV(deaf{}) == nil {
		t.Error("a table that nobody got is called written")
	}
}
