package params

import (
	"reflect"
	"slices"
	"strings"
	"testing"
	"unicode"
)

// snake is the key that a field's path should have: EdgeSize is edge_size.
func snake(name string) string {
	var b strings.Builder
	for i, r := range name {
		if unicode.IsUpper(r) && i > 0 && unicode.IsLower(rune(name[i-1])) {
			b.WriteByte('_')
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}

// fields lists the paths of all values below a struct, and their addresses.
func fields(path string, v reflect.Value, visit func(path string, field any)) {
	for i := range v.NumField() {
		name := snake(v.Type().Field(i).Name)
		if path != "" {
			name = path + "." + name
		}
		switch f := v.Field(i); f.Kind() {
		case reflect.Struct:
			fields(name, f, visit)
		case reflect.Slice:
			name = strings.TrimSuffix(name, "s")
			visit(name, f.Addr().Interface())
			fields(name, f.Index(0), visit)
		default:
			visit(name, f.Addr().Interface())
		}
	}
}

// The table and the job are the same list: every field has one row, named like
// it and pointing at it.
func TestTableCoversTheJob(t *testing.T) {
	j := &Job{Wheel: Wheel{Grooves: make([]Groove, 1)}, Hub: Hub{Grooves: make([]Groove, 1)}, Machining: Machining{Cutters: make([]Cutter, 1)}}
	var paths []string
	fields("", reflect.ValueOf(j).Elem(), func(path string, field any) {
		paths = append(paths, path)
		k, ok := keyAt(path)
		if !ok {
			t.Errorf("%s has no row", path)
		} else if k.slot.at(j, 0) != field {
			t.Errorf("the row %s points at another field", path)
		}
	})
	if len(paths) != len(table) {
		t.Errorf("%d fields, %d rows", len(paths), len(table))
	}
	for i, k := range table {
		if slices.ContainsFunc(table[:i], func(o Key) bool { return o.Path == k.Path }) {
			t.Errorf("two rows for %s", k.Path)
		}
	}
}

// Every row explains itself.
func TestRowsAreDocumented(t *testing.T) {
	for _, k := range table {
		if !strings.HasSuffix(k.Doc, ".") {
			t.Errorf("%s: doc %q is no sentence", k.Path, k.Doc)
		}
		if k.Required() != (k.From == "") {
			t.Errorf("%s: required %v, but its default comes from %q", k.Path, k.Required(), k.From)
		}
		if (k.Kind == Word) != (len(k.Options) > 0) {
			t.Errorf("%s: options %v of %v", k.Path, k.Options, k.Kind)
		}
		if k.Kind <= Count && k.hi == nil {
			t.Errorf("%s has no upper limit", k.Path)
		}
	}
}

// A default reads only values of rows above it: derived again on the finished
// job, it comes out the same.
func TestDefaultsAreDerivedInOrder(t *testing.T) {
	forAllWheels(t, func(d, w, bore float64, process string) {
		j, err := Default(d, w, bore, process)
		if err != nil {
			return // reported by another test
		}
		for _, k := range table {
			for i := range k.len(j) {
				if stated := k.Required() || k.Path == "process.name"; !stated && !k.isDefault(j, i) {
					t.Fatalf("%v x %v: %s = %v, derived again %v", d, w, k.label(i), k.get(j, i), k.slot.value(j, i))
				}
			}
		}
	})
}

func TestNearestKey(t *testing.T) {
	for word, want := range map[string]string{
		"wheel.diamter":          "wheel.diameter",
		"wheel.Diameter":         "wheel.diameter",
		"whel.diameter":          "wheel.diameter",
		"wheel.wdith":            "wheel.width",
		"hub.bearing_frnt.depth": "hub.bearing_front.depth",
		"mold.sprue.gat":         "mold.sprue.gate",
		"wheel.bore":             "hub.bore", // right name, wrong section
		"mould.land":             "mold.land",
		"wheel.color":            "",
		"x":                      "",
	} {
		if got := nearestKey(word); got != want {
			t.Errorf("%s: %q, want %q", word, got, want)
		}
	}
}

// Counted by hand.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"abc", "abc", 0}, {"abc", "acb", 1}, {"abc", "ab", 1}, {"abc", "abxc", 1}, {"abc", "xbc", 1}, {"kitten", "sitting", 3}, {"", "abc", 3}} {
		if got := distance(c.a, c.b); got != c.want {
			t.Errorf("distance(%q, %q) = %d, want %d", c.a, c.b, got, c.want)
		}
	}
}
