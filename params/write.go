package params

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
)

const writeHeader = `# A wheelmold job file.
#
# Only diameter, width and bore must be stated. Every other value has a default
# that is derived from these and from how the mold is made; it stands here after
# a "#" without a space, as it comes out now. Remove the "#" to fix a value. What
# stays commented out is derived again whenever another value changes.
#
# What has a unit is written with it, in quotes: "90 mm", "3.5 in", "1 1/2 in",
# "2 deg", "15 lb", "1.04 g/cm3", "0.3 %", "20 min", "0.8 Pa*s" or "800 cP",
# "5 N*m" or "4 ft*lb", "150 MPa", "35 mN/m", "23 C" or "73 F",
# "500 ml" or "1 gal", "175 ppm/K".
# Positions along the axis count from the back face; the front takes the sprocket.
`

// Write writes a job file that holds every value with what it means, its range
// and where its default comes from. Values that differ from their default are
// active, the others commented out, so that [Parse] returns the same job. A job
// that does not pass [Job.Validate] is refused with its faults.
func Write(w io.Writer, j *Job) error {
	if faults := j.Validate(); faults != nil {
		return faults
	}
	var b strings.Builder
	b.WriteString(writeHeader)
	for _, s := range sections() {
		keys := slices.DeleteFunc(Keys(), func(k Key) bool { return k.section() != s })
		if list, ok := keyAt(s); ok {
			writeTables(&b, j, list, keys)
			continue
		}
		if s != "" {
			fmt.Fprintf(&b, "\n[%s]\n", s)
		}
		for _, k := range keys {
			if k.Kind == Tables {
				writeNone(&b, j, k)
				continue
			}
			writeKey(&b, j, k, 0, k.isDefault(j, 0))
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// sectionOrder is how a builder thinks; the table's order is that of derivation.
var sectionOrder = []string{"", "wheel", "hub", "process", "printing", "machining", "mold", "pour", "duty", "worth", "calibration"}

func sections() []string {
	var all []string
	for _, k := range table {
		if s := k.section(); !slices.Contains(all, s) {
			all = append(all, s)
		}
	}
	rank := func(s string) int {
		first, _, _ := strings.Cut(s, ".")
		return slices.Index(sectionOrder, first)
	}
	slices.SortStableFunc(all, func(a, b string) int { return cmp.Compare(rank(a), rank(b)) })
	return all
}

func (k Key) isDefault(j *Job, i int) bool {
	return !k.Required() && k.get(j, i) == k.slot.value(j, i)
}

// Unstated lists those of some values that are what they are by default: nobody
// stated them, or stated just that.
func (j *Job) Unstated(paths ...string) (out []string) {
	for _, path := range paths {
		if k, ok := keyAt(path); ok && k.isDefault(j, 0) {
			out = append(out, path)
		}
	}
	return out
}

// writeKey writes one value below its explanation.
func writeKey(b *strings.Builder, j *Job, k Key, i int, off bool) {
	fmt.Fprintf(b, "\n# %s\n", k.Doc)
	if facts := strings.Join(nonEmpty(k.allowed(j), k.origin()), "; "); facts != "" {
		fmt.Fprintf(b, "# %s\n", facts)
	}
	writeValue(b, j, k, i, off)
}

func (k Key) origin() string {
	if k.Required() {
		return "must be stated"
	}
	return "default: " + k.From
}

func writeValue(b *strings.Builder, j *Job, k Key, i int, off bool) {
	if off {
		b.WriteByte('#')
	}
	v := k.get(j, i)
	fmt.Fprintf(b, "%s = %s", k.name(), k.literal(v))
	if length, ok := v.(float64); ok && k.Kind == Length && length != 0 {
		fmt.Fprintf(b, " # %s", FormatInches(length))
	}
	b.WriteByte('\n')
}

// literal is a value in TOML.
func (k Key) literal(v any) string {
	switch v := v.(type) {
	case string:
		return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(v) + `"`
	case float64:
		if k.Kind != Number {
			return `"` + Format(k.Kind, v) + `"`
		}
		return Format(k.Kind, v)
	}
	return fmt.Sprint(v)
}

// writeNone asks for no tables where there would be some by default.
func writeNone(b *strings.Builder, j *Job, list Key) {
	if list.get(j, 0) == 0 && !list.isDefault(j, 0) {
		fmt.Fprintf(b, "\n# %s\n%s = []\n", list.Doc, list.name())
	}
}

// writeTables writes the tables of an array. Where there are none, one as it
// would come out shows what can be stated.
func writeTables(b *strings.Builder, j *Job, list Key, keys []Key) {
	off := list.isDefault(j, 0)
	for i := range list.get(j, 0).(int) {
		off = off && !slices.ContainsFunc(keys, func(k Key) bool { return !k.isDefault(j, i) })
	}
	if list.get(j, 0) == 0 {
		j, off = withOneTable(j, list, keys), true
	}
	fmt.Fprintf(b, "\n# %s\n# Default: %s.\n", list.Doc, list.From)
	for _, k := range keys {
		fmt.Fprintf(b, "# %s: %s %s; %s.\n", k.name(), k.Doc, k.allowed(j), k.origin())
	}
	for i := range list.get(j, 0).(int) {
		if b.WriteByte('\n'); off {
			b.WriteByte('#')
		}
		fmt.Fprintf(b, "[[%s]]\n", list.Path)
		for _, k := range keys {
			writeValue(b, j, k, i, off || k.isDefault(j, i))
		}
	}
}

func withOneTable(j *Job, list Key, keys []Key) *Job {
	one := *j
	list.set(&one, 0, 1)
	for _, k := range keys {
		k.set(&one, 0, k.slot.value(&one, 0))
	}
	return &one
}
