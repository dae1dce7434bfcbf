package params

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// spot is where a value was stated.
type spot struct {
	file         string
	line, column int
}

// document is what was read of a job file and its overrides.
type document struct {
	stated stated
	spots  map[string]spot // by label
	faults Faults
	guess  []string // keys that misspelled ones most likely meant

	broken bool // no TOML: what was read may be half of what was meant

	file   string
	home   spot   // of what was not stated
	below  string // the section that holds all keys; "": they stand in sections of their own
	parser *unstable.Parser
	tables map[string]int // how many tables each array has
}

func newDocument(parser *unstable.Parser, home spot) *document {
	return &document{stated: stated{}, spots: map[string]spot{}, file: home.file, home: home, parser: parser, tables: map[string]int{}}
}

// newParser reads TOML one expression at a time. It keeps no copy, and tells
// positions from the slice's capacity.
func newParser(src []byte) *unstable.Parser {
	p := new(unstable.Parser)
	p.Reset(slices.Clip(slices.Clone(src)))
	return p
}

// read walks the whole file, and records a fault for everything in it that is
// not a value of the table.
func read(file string, src []byte) *document {
	d := newDocument(newParser(src), spot{file: file})
	if f, bad := encoded(file, src); bad {
		d.faults, d.broken = Faults{f}, true
		return d
	}
	var here scope
	for d.parser.NextExpression() {
		n := d.parser.Expression()
		switch n.Kind {
		case unstable.Table, unstable.ArrayTable:
			here = d.header(n)
		case unstable.KeyValue:
			d.pair(here, n)
		}
	}
	d.syntax(src)
	d.countTables()
	return d
}

// countTables states how many tables each array has, once all are read.
func (d *document) countTables() {
	for path, n := range d.tables {
		d.stated[ref{path, 0}] = n
	}
}

// syntax records what makes the file no TOML, which the parser of single
// expressions cannot see, such as a table opened twice.
func (d *document) syntax(src []byte) {
	var all any
	err := toml.Unmarshal(src, &all)
	if err == nil {
		return
	}
	f := Fault{File: d.file, Line: 1, Column: 1}
	var at *toml.DecodeError
	if errors.As(err, &at) {
		f.Line, f.Column = at.Position()
	}
	cause, hint := explained(src, f.Line, strings.TrimPrefix(err.Error(), "toml: "))
	f.Cause, f.Hint = "not TOML: "+cause, hint
	// A key stated twice has been reported with both places.
	if !d.answers(f.Line) {
		d.faults = append(d.faults, f)
		d.broken = true
	}
}

// answers reports whether a line has a fault, or a value that is told of with its range.
func (d *document) answers(line int) bool {
	for r, v := range d.stated {
		k, _ := keyAt(r.path)
		if _, none := v.(unusable); none && d.spots[k.label(r.index)].line == line {
			return true
		}
	}
	return slices.ContainsFunc(d.faults, func(f Fault) bool { return f.Line == line })
}

// scope is the table that a key belongs to.
type scope struct {
	path  string
	index int  // of the table in its array
	array bool // in a table of an array
}

func (s scope) join(name string) string {
	if s.path == "" {
		return name
	}
	return s.path + "." + name
}

// header opens a table, or the next one of an array.
func (d *document) header(n *unstable.Node) scope {
	path, at := d.key(n.Key())
	k, known := keyAt(path)
	array := known && k.Kind == Tables
	switch {
	case !array && !isSection(path):
		d.unknown(path, "", at)
	case array && n.Kind == unstable.Table:
		d.fault(at, Fault{Path: path, Cause: "is an array of tables", Hint: fmt.Sprintf("write [[%s]]", path)})
	case !array && n.Kind == unstable.ArrayTable:
		d.fault(at, Fault{Path: path, Cause: "is one table", Hint: fmt.Sprintf("write [%s]", path)})
	}
	if !array {
		return scope{path: path}
	}
	return d.openTable(path, at)
}

func (d *document) openTable(path string, at spot) scope {
	if d.tables[path] == 0 {
		d.spots[path] = at
	}
	d.tables[path]++
	return scope{path, d.tables[path] - 1, true}
}

// key reads a dotted key, and where its last part stands.
func (d *document) key(parts unstable.Iterator) (path string, at spot) {
	var names []string
	for parts.Next() {
		n := parts.Node()
		name := string(n.Data)
		if name == "" {
			name = `""` // so that a fault has something to name
		}
		names = append(names, name)
		p := d.parser.Shape(n.Raw).Start
		at = spot{d.file, p.Line, p.Column}
	}
	return strings.Join(names, "."), at
}

// isSection reports whether some key lies in the section.
func isSection(path string) bool {
	return slices.ContainsFunc(table, func(k Key) bool { return strings.HasPrefix(k.Path, path+".") })
}

// pair takes one key with its value.
func (d *document) pair(here scope, n *unstable.Node) {
	name, at := d.key(n.Key())
	path, value := here.join(name), n.Value()
	k, known := keyAt(path)
	switch {
	case !known && isSection(path) && value.Kind == unstable.InlineTable:
		d.pairs(scope{path: path}, value)
	case !known && isSection(path):
		d.fault(at, Fault{Path: path, Value: source(value), Cause: "is a section, not a value", Hint: fmt.Sprintf("write [%s]", path)})
	case !known:
		d.unknown(path, source(value), at)
	case k.Kind == Tables:
		d.list(k, value, at)
	case k.slot.count != nil && !here.array:
		d.fault(at, Fault{Path: path, Value: source(value), Cause: "belongs into a table of an array", Hint: fmt.Sprintf("write [[%s]] above it", k.section())})
	default:
		v, err := convert(k, value)
		d.state(k, here.index, at, v, source(value), err)
	}
}

func (d *document) pairs(here scope, inline *unstable.Node) {
	for it := inline.Children(); it.Next(); {
		if it.Node().Kind == unstable.KeyValue {
			d.pair(here, it.Node())
		}
	}
}

// list takes an array of tables that is written as a value: [] or [{…}, {…}].
func (d *document) list(k Key, value *unstable.Node, at spot) {
	if value.Kind != unstable.Array {
		d.fault(at, Fault{Path: k.Path, Value: source(value), Cause: "is an array of tables", Hint: fmt.Sprintf("write [[%s]], or %s = [] for none", k.Path, k.name())})
		return
	}
	if _, opened := d.tables[k.Path]; !opened {
		d.tables[k.Path] = 0
		d.spots[k.Path] = at
	}
	for it := value.Children(); it.Next(); {
		switch n := it.Node(); n.Kind {
		case unstable.Comment:
		case unstable.InlineTable:
			d.pairs(d.openTable(k.Path, at), n)
		default:
			d.fault(at, Fault{Path: k.Path, Value: source(n), Cause: "is no table", Hint: fmt.Sprintf("write {%s = %q}", lengthIn(k.Path).name(), "2 mm")})
		}
	}
}

// state records a value, or why it is none.
func (d *document) state(k Key, i int, at spot, v any, text string, err error) {
	label := k.label(i)
	if first, twice := d.spots[label]; twice && first.line > 0 && at.line > 0 {
		d.fault(at, Fault{Path: label, Value: text, Cause: fmt.Sprintf("stated twice, first in line %d", first.line)})
		return
	}
	d.spots[label] = at
	if none := (*noNumberError)(nil); errors.As(err, &none) {
		d.stated[ref{k.Path, i}] = unusable{cause: err.Error(), source: text}
		return
	}
	if err != nil {
		d.fault(at, Fault{Path: label, Value: text, Cause: err.Error()})
		return
	}
	if u, ok := v.(unitless); ok {
		u.source = text
		v = u
	}
	d.stated[ref{k.Path, i}] = v
}

func (d *document) fault(at spot, f Fault) {
	f.File, f.Line, f.Column = at.file, at.line, at.column
	d.faults = append(d.faults, f)
}

func (d *document) unknown(path, value string, at spot) {
	f := Fault{Path: path, Value: value, Cause: "unknown key"}
	if n := nearestKey(path); n != "" {
		f.Hint = fmt.Sprintf("did you mean %s?", n)
		d.guess = append(d.guess, n)
	} else if value == "" {
		f.Cause, f.Hint = "unknown section", likelySection(path)
	} else {
		f.Hint = contents(path)
	}
	d.fault(at, f)
}

// likelySection asks whether a section was meant that is spelled nearly so, or "";
// arrays of tables are keys, too, and asked for as such.
func likelySection(path string) string {
	var sections []string
	for _, k := range table {
		for s := k.section(); s != ""; s = (Key{Path: s}).section() {
			sections = append(sections, s)
		}
	}
	if n := nearest(path, sections); n != "" {
		return fmt.Sprintf("did you mean [%s]?", n)
	}
	return ""
}

// fewKeys is how many keys a hint may list.
const fewKeys = 10

// contents lists what the section of an unknown key holds, or "".
func contents(path string) string {
	section := Key{Path: path}.section()
	var names []string
	for _, k := range table {
		if k.section() == section {
			names = append(names, k.name())
		}
	}
	if section == "" || len(names) == 0 || len(names) > fewKeys {
		return ""
	}
	return fmt.Sprintf("[%s] has %s", section, strings.Join(names, ", "))
}

// source is a value as a fault shows it.
func source(n *unstable.Node) string {
	switch n.Kind {
	case unstable.String:
		return fmt.Sprintf("%q", n.Data)
	case unstable.Array:
		return "[…]"
	case unstable.InlineTable:
		return "{…}"
	}
	return string(n.Data)
}

// convert reads a TOML value as the key's kind.
func convert(k Key, n *unstable.Node) (any, error) {
	text := string(n.Data)
	number := n.Kind == unstable.Integer || n.Kind == unstable.Float
	switch {
	case k.Kind <= Share && n.Kind == unstable.Float && strings.ContainsAny(text, "in"):
		return nil, fmt.Errorf("is no finite number: write %s", kindNames[k.Kind].example)
	case k.Kind <= Share && number:
		if u, ok := lackingUnit(text); ok {
			return u, nil
		}
		return nil, fmt.Errorf("has no unit: write %s", kindNames[k.Kind].example)
	case k.Kind <= Share && n.Kind == unstable.String,
		k.Kind == Number && number,
		k.Kind == Count && n.Kind == unstable.Integer,
		(k.Kind == Word || k.Kind == Text) && n.Kind == unstable.String:
		return convertText(k, text)
	case k.Kind == Count && n.Kind == unstable.Float:
		return nil, &noNumberError{fmt.Sprintf("is %s, not %v: write one as in %s", kindOf(n), k.Kind, kindNames[k.Kind].example)}
	case (k.Kind == Number || k.Kind == Count) && n.Kind == unstable.String:
		return nil, fmt.Errorf("is text, not %v: write it without quotes and unit, as in %s", k.Kind, kindNames[k.Kind].example)
	}
	return nil, fmt.Errorf("is %s, not %v: write %s", kindOf(n), k.Kind, kindNames[k.Kind].example)
}

func kindOf(n *unstable.Node) string {
	switch n.Kind {
	case unstable.String:
		return "text"
	case unstable.Bool:
		return "true or false"
	case unstable.Integer:
		return "a number"
	case unstable.Float:
		return "a number with a point"
	case unstable.Array:
		return "an array"
	case unstable.InlineTable:
		return "a table"
	}
	return "a date or time"
}

// convertText reads the text of a value, from a file or a command line.
func convertText(k Key, text string) (any, error) {
	switch k.Kind {
	case Word, Text:
		return text, nil
	case Count:
		n, err := strconv.ParseInt(text, 0, 32)
		if err != nil {
			return nil, noNumberFor(Count, "is no whole number", err)
		}
		return int(n), nil
	case Number:
		v, err := strconv.ParseFloat(strings.ReplaceAll(text, "_", ""), 64)
		if err != nil {
			return nil, noNumberFor(Number, "is no number", err)
		}
		return v, nil
	}
	if u, ok := lackingUnit(text); ok {
		return u, nil
	}
	return ParseQuantity(k.Kind, text)
}

// noNumberError is a text that is none of the plain numbers that a value may be; the
// range of those depends on the job.
type noNumberError struct{ cause string }

func (e *noNumberError) Error() string { return e.cause }

// noNumberFor tells a number that is too long from a text that is none.
func noNumberFor(k Kind, cause string, err error) error {
	if errors.Is(err, strconv.ErrRange) {
		return &noNumberError{"is absurdly large"}
	}
	return &noNumberError{fmt.Sprintf("%s: write one as in %s", cause, kindNames[k].example)}
}
