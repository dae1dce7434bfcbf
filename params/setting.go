package params

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Setting overrides one value of a job file, as in --set wheel.diameter=90mm.
// A groove is named by its number: hub.groove[2].depth=1.5mm; hub.groove=none
// takes all away.
type Setting struct {
	Key, Value string
	// Stepped is a value that a range stepped to: nobody wrote it, so that no slip of
	// the pen is suspected in it.
	Stepped bool
}

// ParseSetting reads "key=value".
func ParseSetting(s string) (Setting, error) {
	key, value, ok := strings.Cut(s, "=")
	if key = strings.TrimSpace(key); !ok || key == "" {
		return Setting{}, fmt.Errorf("%q is no setting: write key=value, as in wheel.diameter=90mm", s)
	}
	return Setting{Key: key, Value: strings.TrimSpace(value)}, nil
}

// override states a setting's value in place of the file's.
func (d *document) override(s Setting) {
	at := spot{file: "--set"}
	path, index, numbered := splitIndex(s.Key)
	k, known := keyAt(path)
	switch {
	case !known:
		d.unknown(path, s.Value, at)
	case k.Kind == Tables && s.Value != "none":
		d.fault(at, Fault{Path: path, Value: s.Value, Cause: "is an array of tables", Hint: fmt.Sprintf("set %s=none, or one value as in %s=2mm", path, lengthIn(path).label(0))})
	case k.Kind == Tables:
		d.stated[ref{path, 0}] = 0
		d.spots[path] = at
	case (k.slot.count != nil) != numbered:
		d.fault(at, Fault{Path: s.Key, Value: s.Value, Cause: "grooves, and only they, are numbered", Hint: fmt.Sprintf("write %s", k.label(0))})
	default:
		delete(d.stated, ref{path, index})
		d.faults = without(d.faults, k.label(index))
		v, err := convertText(k, unquote(s.Value))
		if q, ok := v.(Quantity); ok {
			q.stepped = s.Stepped
			v = q
		}
		d.state(k, index, at, v, s.Value, err)
	}
}

// lengthIn is the length that tells most of a table of an array: the first one but for a
// groove's position.
func lengthIn(path string) Key {
	i := slices.IndexFunc(table, func(k Key) bool {
		return k.section() == path && k.Kind == Length && k.name() != "position"
	})
	return table[i]
}

// without drops the faults of a value that is stated anew.
func without(fs Faults, path string) Faults {
	var kept Faults
	for _, f := range fs {
		if f.Path != path {
			kept = append(kept, f)
		}
	}
	return kept
}

// splitIndex takes "hub.groove[2].depth" apart into "hub.groove.depth" and 1.
func splitIndex(key string) (path string, index int, numbered bool) {
	before, rest, opened := strings.Cut(key, "[")
	number, after, closed := strings.Cut(rest, "]")
	n, err := strconv.Atoi(number)
	if !opened || !closed || err != nil || n < 1 {
		return key, 0, false
	}
	return before + after, n - 1, true
}

func unquote(s string) string {
	if len(s) >= 2 && s[0] == '"' && s[len(s)-1] == '"' {
		return s[1 : len(s)-1]
	}
	return s
}
