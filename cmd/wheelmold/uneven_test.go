package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
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
	"math/rand":    {"NormFloat64", "ExpFloat64"},
	"math/rand/v2": {"NormFloat64", "ExpFloat64"},
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
}

// whole tells that an exponent is a literal or was made of an integer.
func whole(exponent ast.Expr) bool {
	switch e := exponent.(type) {
	case *ast.BasicLit:
		return e.Kind == token.INT
	case *ast.CallExpr:
		to, ok := e.Fun.(*ast.Ident)
		return ok && to.Name == "float64"
	}
	return false
}

// unevenUses are the uses in a file, by the reason's key and at their place.
func unevenUses(files *token.FileSet, f *ast.File, path string) map[string]token.Position {
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
	}
	fine := map[*ast.SelectorExpr]bool{}
	ast.Inspect(f, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.CallExpr:
			if s, ok := n.Fun.(*ast.SelectorExpr); ok && s.Sel.Name == "Pow" && len(n.Args) == 2 {
				fine[s] = whole(n.Args[1])
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
	root, used, read := filepath.Join("..", ".."), map[string]bool{}, 0
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (d.Name() == "testdata" || d.Name() == "node_modules"):
			return fs.SkipDir
		case filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go"):
			return nil
		}
		files := token.NewFileSet()
		f, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		read++
		of, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		for key, at := range unevenUses(files, f, filepath.ToSlash(of)) {
			if unevenReasons[key] == "" {
				t.Errorf("%s: %s: its last digit depends on the machine; see mold/portable", at, key)
			}
			used[key] = true
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
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

// The test above finds what it is for.
func TestUnevenMathIsFound(t *testing.T) {
	const text = `package p
import ("math"; m "math"; "math/rand/v2"; _ "gonum.org/v1/gonum/mat")
var a, b, c = math.Exp(1), m.Log(2), math.Pow(2, x)
var fine = math.Pow(2, 3) + math.Pow(10, float64(n)) + math.Cos(1)
var f = math.Log10
var d = (*rand.Rand)(nil).NormFloat64()
`
	files := token.NewFileSet()
	f, err := parser.ParseFile(files, "p.go", text, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for key, at := range unevenUses(files, f, "p.go") {
		got = append(got, strconv.Itoa(at.Line)+strings.TrimPrefix(key, "p.go"))
	}
	slices.Sort(got)
	want := []string{"2 imports gonum.org/v1/gonum/mat", "3 math.Exp", "3 math.Log", "3 math.Pow", "5 math.Log10", "6 NormFloat64"}
	if !slices.Equal(got, want) {
		t.Errorf("found %q, want %q", got, want)
	}
}
