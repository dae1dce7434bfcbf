package params

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// ReadClasses reads a table of weight classes: per class a table [[class]] and below
// it [class.job], which holds values of a job under their whole names, as in
// wheel.diameter = "60 mm". An error is of type [Faults] and lists everything that is
// wrong with the table and its jobs, in the order of the file.
func ReadClasses(file string, src []byte) ([]*Class, error) {
	r := &classReader{document: newDocument(newParser(src), spot{file: file, line: 1, column: 1})}
	take := r.stray
	for r.parser.NextExpression() {
		n := r.parser.Expression()
		switch n.Kind {
		case unstable.Table, unstable.ArrayTable:
			take = r.header(n)
		case unstable.KeyValue:
			take(n)
		}
	}
	own := r.faults
	for _, c := range r.list {
		c.job.countTables()
		r.faults = append(r.faults, c.job.faults...)
	}
	if r.syntax(src); !r.broken {
		r.faults = own // those of the jobs come again as they are judged
		r.judge()
	}
	if r.faults != nil {
		return nil, r.faults.sorted()
	}
	return r.list, nil
}

// classReader is a table of classes, read so far.
type classReader struct {
	*document // of the table itself; each class has one of its job
	list      []*Class
}

// classJob is the section that holds a class's job.
const classJob = "class.job"

// header begins a class or its job, and returns what takes the values below.
func (r *classReader) header(n *unstable.Node) func(*unstable.Node) {
	path, at := r.key(n.Key())
	switch {
	case path == "class" && n.Kind == unstable.ArrayTable:
		c := &Class{home: at, job: newDocument(r.parser, at)}
		c.job.below = classJob
		r.list = append(r.list, c)
		return r.fact
	case path == classJob && n.Kind == unstable.Table && len(r.list) > 0:
		job := r.list[len(r.list)-1].job
		return func(n *unstable.Node) { job.pair(scope{}, n) }
	}
	r.fault(at, Fault{Path: path, Cause: "unknown section", Hint: `write [[class]] for each class, and [class.job] below it with whole names, as in wheel.diameter = "60 mm"`})
	return func(*unstable.Node) {}
}

// stray takes a value that stands above all classes.
func (r *classReader) stray(n *unstable.Node) {
	path, at := r.key(n.Key())
	r.fault(at, Fault{Path: path, Value: source(n.Value()), Cause: "belongs to no class", Hint: "write [[class]] above it"})
}

// facts are what is told of a class, besides its job.
var facts = []string{"name", "also", "limit", "region", "note"}

// fact takes a value of the class itself.
func (r *classReader) fact(n *unstable.Node) {
	c := r.list[len(r.list)-1]
	name, at := r.key(n.Key())
	value := n.Value()
	label := fmt.Sprintf("%d.%s", len(r.list), name)
	if first, twice := r.spots[label]; twice {
		r.fault(at, Fault{Path: "class." + name, Value: source(value), Cause: fmt.Sprintf("stated twice, first in line %d", first.line)})
		return
	}
	r.spots[label] = at
	var err error
	switch name {
	case "name":
		if c.Name, err = words(value); err == nil {
			err = judgeFolder(c.Name)
		}
	case "also":
		if c.Also, err = listOfWords(value); err == nil {
			err = judgeTerms(c.Also)
		}
	case "limit":
		var v any
		if v, err = convert(Key{Kind: Mass}, value); err == nil {
			c.Limit, err = limitOf(v)
		}
	case "region":
		c.Region, err = words(value)
	case "note":
		c.Note, err = words(value)
	default:
		f := Fault{Path: "class." + name, Value: source(value), Cause: "unknown key", Hint: "a class has " + strings.Join(facts, ", ") + " and [class.job]"}
		if m := nearest(name, facts); m != "" {
			f.Hint = fmt.Sprintf("did you mean %s?", m)
			r.guess = append(r.guess, fmt.Sprintf("%d.%s", len(r.list), m))
		}
		r.fault(at, f)
		return
	}
	if err != nil {
		r.fault(at, Fault{Path: "class." + name, Value: source(value), Cause: err.Error()})
	}
}

func words(n *unstable.Node) (string, error) {
	if n.Kind != unstable.String {
		return "", fmt.Errorf("is %s, not text: put it in quotes", kindOf(n))
	}
	return string(n.Data), nil
}

func listOfWords(n *unstable.Node) (list []string, err error) {
	if n.Kind != unstable.Array {
		return nil, fmt.Errorf(`is %s, not an array: write ["ant", "antweight"]`, kindOf(n))
	}
	for it := n.Children(); it.Next(); {
		if it.Node().Kind == unstable.Comment {
			continue
		}
		w, err := words(it.Node())
		if err != nil {
			return nil, err
		}
		list = append(list, w)
	}
	return list, nil
}

func limitOf(v any) (Quantity, error) {
	q, ok := v.(Quantity)
	switch {
	case !ok:
		return q, fmt.Errorf(`has no unit: write "3 lb" or "1.36 kg"`)
	case q.Base() <= 0:
		return Quantity{}, fmt.Errorf("is no mass above 0")
	}
	return q, nil
}

// longestClass is how many letters a class's name may have: for a folder on any system,
// and a column of a table.
const longestClass = 30

// devices are what Windows takes no folder by the name of.
var devices = regexp.MustCompile(`(?i)^(con|prn|aux|nul|(com|lpt)[0-9])$`)

// judgeFolder says why a class may not be called so: its folder is, on any system.
func judgeFolder(s string) error {
	const plain = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-"
	switch {
	case s == "" || strings.Trim(s, plain) != "":
		return fmt.Errorf("is no plain name: a folder is called so; write letters, digits and hyphens")
	case s[0] == '-':
		return fmt.Errorf("begins with a hyphen: a folder is called so, and commands would take it for a flag")
	case len(s) > longestClass:
		return fmt.Errorf("has %d letters: a folder is called so; write at most %d", len(s), longestClass)
	case devices.MatchString(s):
		return fmt.Errorf("is no name for a folder: to Windows it is a device")
	}
	return judgeTerm(s)
}

// judgeTerm says why a word cannot mean a class on a command line.
func judgeTerm(s string) error {
	switch plainly(s) {
	case "":
		return fmt.Errorf("says nothing: hyphens, spaces and \"weight\" do not tell classes apart")
	case everyClass:
		return fmt.Errorf("means every class: --class all is taken")
	}
	return nil
}

func judgeTerms(all []string) error {
	for _, t := range all {
		if err := judgeTerm(t); err != nil {
			return fmt.Errorf("has %q, which %w", t, err)
		}
	}
	return nil
}

// everyClass is the word that no class may be called by.
const everyClass = "all"

// judge looks at each class as a whole, and at all of them together.
func (r *classReader) judge() {
	means := map[string]*Class{}
	for i, c := range r.list {
		for _, name := range []string{"name", "limit"} {
			label := fmt.Sprintf("%d.%s", i+1, name)
			if _, ok := r.spots[label]; !ok && !slices.Contains(r.guess, label) {
				r.fault(c.home, Fault{Path: "class." + name, Cause: "missing"})
			}
		}
		for _, t := range c.terms() {
			if other := means[plainly(t)]; other != nil && plainly(t) != "" {
				r.fault(c.home, Fault{Path: "class.also", Value: fmt.Sprintf("%q", t), Cause: fmt.Sprintf("means a class twice, first in line %d", other.home.line)})
			}
			means[plainly(t)] = c
		}
		var faults Faults
		if _, _, err := c.Job(); errors.As(err, &faults) {
			r.faults = append(r.faults, faults...)
		}
	}
	if len(r.list) == 0 {
		r.fault(r.home, Fault{Cause: "no class in it", Hint: "write [[class]] with a name, a limit and [class.job]"})
	}
}
