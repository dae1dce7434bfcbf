package main

import (
	"fmt"
	"go/ast"
	"go/constant"
	"go/parser"
	"go/token"
	"go/types"
	"io/fs"
	"maps"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// uneven are the functions of the standard library whose last digit depends on the
// processor: math takes Exp, Log and Exp2 from assembly on some (see its *_asm.go), and
// these use them. Pow does where its exponent is not whole.
var uneven = map[string][]string{
	"math": {"Exp", "Exp2", "Log", "Log2", "Log10", "Pow", "Sinh", "Cosh", "Tanh", "Asinh", "Acosh", "Atanh",
		"Erf", "Erfc", "Erfinv", "Erfcinv", "Gamma", "Lgamma", "J0", "J1", "Jn", "Y0", "Y1", "Yn"},
	"math/rand":    {"NormFloat64", "ExpFloat64", "NewZipf"},
	"math/rand/v2": {"NormFloat64", "ExpFloat64", "NewZipf"},
}

// even are the packages of gonum that have neither those nor kernels of assembly in what
// we call of them.
var even = []string{"gonum.org/v1/gonum/integrate/quad", "gonum.org/v1/gonum/interp"}

// unevenReasons are the uses that may stay, by file and name.
var unevenReasons = map[string]string{
	"mesh/raster/light.go math.Pow":                                "of a fixed set of colors, and rounded to 8 or 24 bits",
	"mold/flash/state.go NormFloat64":                              "they only judge 1 draw in 50 there, to 24 bits, or beyond what is clamped",
	"mold/castlog/learn.go imports gonum.org/v1/gonum/stat/distuv": "its few quantiles are rounded to ten digits",
	"mold/portable/portable.go math.Pow":                           "of a whole exponent, and at the ends of the range",
	"mold/report/reporttest/agrees.go math.Pow":                    "of an integer that strconv reads; it judges in tests, and writes nothing",
}

// sources are the files of the module's packages, by import path.
type sources struct {
	set   *token.FileSet
	files map[string][]*ast.File
	known map[string]*types.Package
}

// Import finds what a package of the module declares. Of others nothing is known, so that
// what they make of an exponent has no type: that is a finding, too.
func (s *sources) Import(path string) (*types.Package, error) {
	if s.files[path] == nil {
		return nil, fmt.Errorf("%s is not of this module", path)
	}
	if s.known[path] == nil {
		s.known[path] = s.check(path, nil, true)
	}
	return s.known[path], nil
}

// check goes on after errors: they are many, with no other packages known.
func (s *sources) check(path string, info *types.Info, outside bool) *types.Package {
	c := types.Config{Importer: s, IgnoreFuncBodies: outside, Error: func(error) {}}
	p, _ := c.Check(path, s.set, s.files[path], info)
	return p
}

// exponents are the types in a package that calls any Pow.
func (s *sources) exponents(path string) map[ast.Expr]types.TypeAndValue {
	info := types.Info{Types: map[ast.Expr]types.TypeAndValue{}}
	raises := func(f *ast.File) (found bool) {
		ast.Inspect(f, func(n ast.Node) bool {
			e, ok := n.(*ast.SelectorExpr)
			found = found || ok && e.Sel.Name == "Pow"
			return !found
		})
		return found
	}
	if slices.ContainsFunc(s.files[path], raises) {
		s.check(path, &info, false)
	}
	return info.Types
}

// whole tells that an exponent is a whole constant, or was made of an integer.
func whole(kinds map[ast.Expr]types.TypeAndValue, exponent ast.Expr) bool {
	if v := kinds[exponent].Value; v != nil {
		return constant.ToInt(v).Kind() == constant.Int
	}
	to, ok := ast.Unparen(exponent).(*ast.CallExpr)
	if !ok || len(to.Args) != 1 || !kinds[to.Fun].IsType() || kinds[to.Args[0]].Type == nil {
		return false
	}
	of, ok := kinds[to.Args[0]].Type.Underlying().(*types.Basic)
	return ok && of.Info()&types.IsInteger != 0
}

// unevenUses are the uses in a file, by the reason's key and at their place.
func unevenUses(files *token.FileSet, f *ast.File, path string, kinds map[ast.Expr]types.TypeAndValue) map[string]token.Position {
	found, names := map[string]token.Position{}, map[string]string{}
	for _, i := range f.Imports {
		p, _ := strconv.Unquote(i.Path.Value)
		name := filepath.Base(p)
		if name == "v2" {
			name = "rand"
		}
		if i.Name != nil {
			name = i.Name.Name
		}
		names[name] = p
		if strings.HasPrefix(p, "gonum.org/") && !slices.Contains(even, p) || p == "math/cmplx" {
			found[path+" imports "+p] = files.Position(i.Pos())
		}
		if name == "." && uneven[p] != nil { // its names would stand alone
			found[path+" imports . "+p] = files.Position(i.Pos())
		}
	}
	fine := map[*ast.SelectorExpr]bool{}
	ast.Inspect(f, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.CallExpr:
			if s, ok := n.Fun.(*ast.SelectorExpr); ok && s.Sel.Name == "Pow" && len(n.Args) == 2 {
				fine[s] = whole(kinds, n.Args[1])
			}
		case *ast.SelectorExpr:
			of, _ := n.X.(*ast.Ident)
			switch name := n.Sel.Name; {
			case slices.Contains(uneven["math/rand"], name): // of any generator
				found[path+" "+name] = files.Position(n.Pos())
			case of != nil && slices.Contains(uneven[names[of.Name]], name) && !fine[n]:
				found[path+" "+names[of.Name]+"."+name] = files.Position(n.Pos())
			}
		}
		return true
	})
	return found
}

// What is written must not depend on the processor: such functions are taken from
// mold/portable instead, exponents of ten from params.Decade.
func TestNoUnevenMath(t *testing.T) {
	s, used, read := moduleSources(t), map[string]bool{}, 0
	for _, in := range slices.Sorted(maps.Keys(s.files)) {
		kinds := s.exponents(in)
		for _, f := range s.files[in] {
			read++
			name := path.Join(in, path.Base(filepath.ToSlash(s.set.Position(f.Package).Filename)))
			for key, at := range unevenUses(s.set, f, strings.TrimPrefix(name, "wheelmold/"), kinds) {
				if unevenReasons[key] == "" {
					t.Errorf("%s: %s: its last digit depends on the machine; see mold/portable", at, key)
				}
				used[key] = true
			}
		}
	}
	if read < 200 {
		t.Errorf("only %d files read", read)
	}
	for key := range unevenReasons {
		if !used[key] {
			t.Errorf("a reason is given for %s, which is not used", key)
		}
	}
}

// moduleSources reads the program's files, for every system.
func moduleSources(t *testing.T) *sources {
	t.Helper()
	root := filepath.Join("..", "..")
	s := &sources{token.NewFileSet(), map[string][]*ast.File{}, map[string]*types.Package{}}
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (d.Name() == "testdata" || d.Name() == "node_modules"):
			return fs.SkipDir
		case filepath.Ext(name) != ".go" || strings.HasSuffix(name, "_test.go"):
			return nil
		}
		f, err := parser.ParseFile(s.set, name, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		of, err := filepath.Rel(root, filepath.Dir(name))
		in := path.Join("wheelmold", filepath.ToSlash(of))
		s.files[in] = append(s.files[in], f)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The test above finds what it is for.
func TestUnevenMathIsFound(t *testing.T) {
	const text = `package p
import ("math"; m "math"; "math/rand/v2"; _ "gonum.org/v1/gonum/mat"; . "math/rand")
var a, b, c = math.Exp(1), m.Log(2), math.Pow(2, x)
var fine = math.Pow(2, 3) + math.Pow(10, float64(n)) + math.Cos(1) + math.Pow(x, (float64)(n-1)) + math.Pow(x, -2.0)
var f = math.Log10
var d = (*rand.Rand)(nil).NormFloat64()
var g = math.Pow(x, float64(y))
var h = math.Pow(2, float64(1.5))
var i = math.Pow(2, 1/2.)
var j = math.Pow(2, float64(math.Floor(x)))
var k = math.Pow
var l = rand.NewZipf(nil, 2, 2, 9)
var q = math.Pow(2, half(n))
var x, y, n = 1.5, float32(1.5), 3
func half(n int) float64 { return float64(n) / 2 }
`
	s := &sources{token.NewFileSet(), map[string][]*ast.File{}, nil}
	f, err := parser.ParseFile(s.set, "p.go", text, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	s.files["p"] = []*ast.File{f}
	var got []string
	kinds := s.exponents("p")
	// Line by line, as a use that is found twice has one place.
	for _, d := range f.Decls {
		one := &ast.File{Package: f.Package, Name: f.Name, Decls: []ast.Decl{d}, Imports: f.Imports}
		for key, at := range unevenUses(s.set, one, "p.go", kinds) {
			if at.Line == s.set.Position(d.Pos()).Line {
				got = append(got, strconv.Itoa(at.Line)+strings.TrimPrefix(key, "p.go"))
			}
		}
	}
	slices.Sort(got)
	want := []string{"10 math.Pow", "11 math.Pow", "12 NewZipf", "13 math.Pow", "2 imports . math/rand", "2 imports gonum.org/v1/gonum/mat", "3 math.Exp",
		"3 math.Log", "3 math.Pow", "5 math.Log10", "6 NormFloat64", "7 math.Pow", "8 math.Pow", "9 math.Pow"}
	if !slices.Equal(got, want) {
		t.Errorf("found %q, want %q", got, want)
	}
}
