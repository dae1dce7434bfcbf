package step

import (
	"errors"
	"fmt"
	"io"
	"strings"
)

// File is a parsed STEP file.
type File struct {
	Header   []Record
	Entities map[int]Entity
	Order    []int // the entities' numbers as they stand in the file
}

// Entity is one instance: a single record, or several of one complex instance.
type Entity []Record

// Record is a type with its parameters.
type Record struct {
	Type   string
	Params []Param
}

// Kind is what a parameter is.
type Kind uint8

// The kinds of parameters.
const (
	Absent  Kind = iota // $
	Derived             // *
	Integer
	Real
	Text
	Enum  // .WORD.
	Ref   // #1
	List  // (…)
	Typed // WORD(…)
)

// Param is one parameter.
type Param struct {
	Kind   Kind
	Number float64 // Integer, Real; Ref: the entity's number
	Text   string  // Text, decoded; Enum: the word without its dots; Typed: the type
	List   []Param // List, Typed
}

const (
	// maxFile and maxValues bound what Read takes, bytes, and entities with parameters
	// and what is in their lists: ten times the largest mold, and some 200 MB.
	maxFile   = 32 << 20
	maxValues = 2 << 20
	// maxDepth bounds lists within lists.
	maxDepth = 16
)

// Read parses the clear text of a STEP file (ISO 10303-21, one data section). It is
// strict: every entity that is referred to must exist, numbers are used once, and
// nothing but space may follow the file's end. Whether entities have the parameters
// that their schema asks for is for whoever uses them.
func Read(r io.Reader) (*File, error) {
	src, err := io.ReadAll(io.LimitReader(r, maxFile+1))
	if err != nil {
		return nil, fmt.Errorf("step: %w", err)
	}
	if len(src) > maxFile {
		return nil, fmt.Errorf("step: more than %d bytes", maxFile)
	}
	p := &parser{src: string(src), line: 1}
	f, err := p.file()
	if err == nil {
		err = f.resolve()
	}
	if err != nil {
		return nil, fmt.Errorf("step: line %d: %w", p.line, err)
	}
	return f, nil
}

// file parses everything.
func (p *parser) file() (*File, error) {
	f := &File{Entities: map[int]Entity{}}
	if err := p.words("ISO-10303-21", ";", "HEADER", ";"); err != nil {
		return nil, err
	}
	for {
		name, err := p.keyword()
		if err != nil {
			return nil, err
		}
		if name == "ENDSEC" {
			break
		}
		params, err := p.params(0)
		if err != nil {
			return nil, err
		}
		f.Header = append(f.Header, Record{name, params})
		if err := p.words(";"); err != nil {
			return nil, err
		}
	}
	if err := p.words(";", "DATA", ";"); err != nil {
		return nil, err
	}
	for p.peek() == '#' {
		if err := p.entity(f); err != nil {
			return nil, err
		}
	}
	if err := p.words("ENDSEC", ";", "END-ISO-10303-21", ";"); err != nil {
		return nil, err
	}
	if p.peek() != 0 || p.at < len(p.src) {
		return nil, errors.New("something follows the file's end")
	}
	return f, nil
}

// entity parses "#1=NAME(…);" or "#1=(NAME(…)NAME(…));".
func (p *parser) entity(f *File) error {
	id, err := p.ref()
	if err != nil {
		return err
	}
	if _, double := f.Entities[id]; double {
		return fmt.Errorf("#%d stands twice", id)
	}
	if err := p.words("="); err != nil {
		return err
	}
	complex := p.peek() == '('
	if complex {
		p.at++
	}
	var e Entity
	for {
		name, err := p.keyword()
		if err != nil {
			return err
		}
		params, err := p.params(0)
		if err != nil {
			return err
		}
		e = append(e, Record{name, params})
		if err := p.count(); err != nil {
			return err
		}
		if !complex || p.peek() == ')' {
			break
		}
	}
	if complex {
		p.at++
	}
	f.Entities[id], f.Order = e, append(f.Order, id)
	return p.words(";")
}

// resolve reports references to what is not there.
func (f *File) resolve() error {
	var missing func(ps []Param) error
	missing = func(ps []Param) error {
		for _, q := range ps {
			if q.Kind == Ref && f.Entities[int(q.Number)] == nil {
				return fmt.Errorf("#%d is not in the file", int(q.Number))
			}
			if err := missing(q.List); err != nil {
				return err
			}
		}
		return nil
	}
	for _, id := range f.Order {
		for _, r := range f.Entities[id] {
			if err := missing(r.Params); err != nil {
				return err
			}
		}
	}
	return nil
}

// Type returns an entity's types, joined by a space where it is complex.
func (e Entity) Type() string {
	names := make([]string, len(e))
	for i, r := range e {
		names[i] = r.Type
	}
	return strings.Join(names, " ")
}
