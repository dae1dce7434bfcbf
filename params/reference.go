package params

import (
	"bufio"
	"fmt"
	"io"
	"strings"
)

// WriteReference writes the table of all values as Markdown. Ranges and defaults
// that depend on other values are those of the given job.
func WriteReference(w io.Writer, j *Job) error {
	b := bufio.NewWriter(w)
	for _, s := range sections() {
		if s != "" {
			fmt.Fprintf(b, "\n## `%s`\n", s)
		}
		b.WriteString("\n| key | meaning | allowed | default |\n|---|---|---|---|\n")
		for _, k := range table {
			if k.section() == s && k.Kind != Tables {
				fmt.Fprintf(b, "| `%s` | %s | %s | %s |\n", k.name(), k.Doc, k.rangeIn(j), k.defaultIn(j))
			}
		}
	}
	return b.Flush()
}

func (k Key) rangeIn(j *Job) string {
	if a := k.allowed(j); a != "" {
		return strings.ReplaceAll(a, `"`, "`")
	}
	return k.Kind.String()
}

func (k Key) defaultIn(j *Job) string {
	switch {
	case k.Required():
		return "must be stated"
	case k.len(j) == 0:
		return k.From
	}
	return fmt.Sprintf("%s: %s", k.literal(k.slot.value(j, 0)), k.From)
}
