package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// sort of fault.
type sort int

const (
	operator sort = iota
	constant
	sign
	sorts
)

// site is a place in a file, and what stands there instead in a faulty one.
type site struct {
	sort     sort
	file     string // as the go command names it
	name     string // below the module's root, with slashes
	function string // around it; empty outside of functions
	line     int
	from, to int // bytes of the file
	instead  string
	was, is  string // the whole line, right and faulty, without indentation
}

// change tells a fault in one line.
func (s site) change() string { return s.was + " → " + s.is }

// swapped is the operator that takes the place of another.
var swapped = map[token.Token]token.Token{
	token.ADD: token.SUB, token.SUB: token.ADD, token.MUL: token.QUO, token.QUO: token.MUL,
	token.LSS: token.LEQ, token.LEQ: token.LSS, token.GTR: token.GEQ, token.GEQ: token.GTR,
	token.EQL: token.NEQ, token.NEQ: token.EQL, token.LAND: token.LOR, token.LOR: token.LAND,
	token.ADD_ASSIGN: token.SUB_ASSIGN, token.SUB_ASSIGN: token.ADD_ASSIGN,
	token.MUL_ASSIGN: token.QUO_ASSIGN, token.QUO_ASSIGN: token.MUL_ASSIGN,
}

var opposite = map[string]string{"min": "max", "max": "min", "Min": "Max", "Max": "Min"}

// turned is the comparison that holds where another does not. It takes that one's place
// among real numbers: whether equal ones pass differs nowhere that matters there.
var turned = map[token.Token]token.Token{token.LSS: token.GEQ, token.GEQ: token.LSS, token.GTR: token.LEQ, token.LEQ: token.GTR}

// find lists the places for faults in the code of a package, tests excluded, in the
// order of the files.
func find(p goPackage, e exports) ([]site, error) {
	set := token.NewFileSet()
	var files []*ast.File
	var texts [][]byte
	for _, name := range p.GoFiles {
		file := filepath.Join(p.Dir, name)
		text, err := os.ReadFile(file)
		if err != nil {
			return nil, err
		}
		parsed, err := parser.ParseFile(set, file, text, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		files, texts = append(files, parsed), append(texts, text)
	}
	k, err := e.kindsOf(p.ImportPath, set, files)
	if err != nil {
		return nil, err
	}
	var sites []site
	for i, parsed := range files {
		below, err := filepath.Rel(p.Module.Dir, set.Position(parsed.Pos()).Filename)
		if err != nil {
			return nil, err
		}
		sites = append(sites, findIn(set, parsed, filepath.ToSlash(below), texts[i], k)...)
	}
	return sites, nil
}

// findIn lists the places in one file.
func findIn(set *token.FileSet, parsed *ast.File, name string, text []byte, k kinds) []site {
	file := set.Position(parsed.Pos()).Filename
	var sites []site
	for _, d := range parsed.Decls {
		function := ""
		if f, ok := d.(*ast.FuncDecl); ok {
			function = f.Name.Name
		}
		ast.Inspect(d, func(n ast.Node) bool {
			sort, at, old, instead := fault(n, k)
			if old == "" {
				return true
			}
			s := site{sort: sort, file: file, name: name, function: function, instead: instead}
			pos := set.Position(at)
			s.line, s.from, s.to = pos.Line, pos.Offset, pos.Offset+len(old)
			s.was, s.is = lines(text, s.from, s.to, instead)
			sites = append(sites, s)
			return true
		})
	}
	return sites
}

// fault says what may be planted at a node: where, what stands there, and what instead.
// Where nothing may be, what stands there is empty.
func fault(n ast.Node, k kinds) (sort sort, at token.Pos, old, instead string) {
	switch n := n.(type) {
	case *ast.BinaryExpr:
		if other, ok := turned[n.Op]; ok && (k.real(n.X) || k.real(n.Y)) {
			return operator, n.OpPos, n.Op.String(), other.String()
		}
		if other, ok := swapped[n.Op]; ok && !isText(n.X) && !isText(n.Y) {
			return operator, n.OpPos, n.Op.String(), other.String()
		}
	case *ast.AssignStmt:
		if other, ok := swapped[n.Tok]; ok && !isText(n.Rhs[0]) {
			return operator, n.TokPos, n.Tok.String(), other.String()
		}
	case *ast.UnaryExpr:
		if n.Op == token.SUB {
			return sign, n.OpPos, "-", ""
		}
		if n.Op == token.NOT {
			return operator, n.OpPos, "!", ""
		}
	case *ast.CallExpr:
		id, ok := n.Fun.(*ast.Ident)
		if dot, is := n.Fun.(*ast.SelectorExpr); is {
			id, ok = dot.Sel, true
		}
		if ok && opposite[id.Name] != "" {
			return operator, id.Pos(), id.Name, opposite[id.Name]
		}
	case *ast.BasicLit:
		if larger, ok := larger(n); ok {
			return constant, n.Pos(), n.Value, larger
		}
	}
	return 0, 0, "", ""
}

// isText tells texts that stand for themselves, which cannot be subtracted.
func isText(e ast.Expr) bool {
	switch e := e.(type) {
	case *ast.BasicLit:
		return e.Kind == token.STRING
	case *ast.BinaryExpr:
		return e.Op == token.ADD && (isText(e.X) || isText(e.Y))
	}
	return false
}

// larger returns an integer larger by one, or another number by a hundredth; zero with a
// point becomes one.
func larger(l *ast.BasicLit) (string, bool) {
	switch l.Kind {
	case token.INT:
		n, err := strconv.ParseInt(l.Value, 0, 64)
		if err != nil || n == math.MaxInt64 {
			return "", false
		}
		return strconv.FormatInt(n+1, 10), true
	case token.FLOAT:
		x, err := strconv.ParseFloat(l.Value, 64)
		if err != nil {
			return "", false
		}
		if x == 0 {
			return "1.0", true
		}
		// A point keeps a whole number a float.
		digits := strconv.FormatFloat(x*1.01, 'g', 12, 64)
		if !strings.ContainsAny(digits, ".e") {
			digits += ".0"
		}
		return digits, true
	}
	return "", false
}

// lines returns the whole line around some bytes, as it is and with others instead.
func lines(text []byte, from, to int, instead string) (was, is string) {
	start := strings.LastIndexByte(string(text[:from]), '\n') + 1
	end := len(text)
	if i := strings.IndexByte(string(text[to:]), '\n'); i >= 0 {
		end = to + i
	}
	was = string(text[start:end])
	is = string(text[start:from]) + instead + string(text[to:end])
	return strings.TrimSpace(was), strings.TrimSpace(is)
}

// faulty returns the file with the fault in it.
func (s site) faulty() ([]byte, error) {
	text, err := os.ReadFile(s.file)
	if err != nil {
		return nil, err
	}
	if s.to > len(text) {
		return nil, fmt.Errorf("%s changed while its faults were tried", s.name)
	}
	if was, _ := lines(text, s.from, s.to, s.instead); was != s.was {
		return nil, fmt.Errorf("%s:%d changed while its faults were tried", s.name, s.line)
	}
	return []byte(string(text[:s.from]) + s.instead + string(text[s.to:])), nil
}
