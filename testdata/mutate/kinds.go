package main

import (
	"fmt"
	"go/ast"
	"go/importer"
	"go/token"
	"go/types"
	"io"
	"os"
)

// exports are the files with what packages export, by import path.
type exports map[string]string

// exported asks the go command for what packages, and all that they import, export.
func exported(patterns ...string) (exports, error) {
	packages, err := list(append([]string{"-export", "-deps"}, patterns...)...)
	if err != nil {
		return nil, err
	}
	e := exports{}
	for _, p := range packages {
		e[p.ImportPath] = p.Export
	}
	return e, nil
}

func (e exports) open(path string) (io.ReadCloser, error) {
	file := e[path]
	if file == "" {
		return nil, fmt.Errorf("the go command knows no exports of %s", path)
	}
	return os.Open(file)
}

// kinds are the types of the expressions in some files of a package.
type kinds map[ast.Expr]types.TypeAndValue

// kindsOf finds the types in a package's files.
func (e exports) kindsOf(path string, set *token.FileSet, files []*ast.File) (kinds, error) {
	info := types.Info{Types: kinds{}}
	config := types.Config{Importer: importer.ForCompiler(set, "gc", e.open)}
	_, err := config.Check(path, set, files, &info)
	return info.Types, err
}

// real tells numbers that are no integers.
func (k kinds) real(x ast.Expr) bool {
	t := k[x].Type
	if t == nil {
		return false
	}
	basic, ok := t.Underlying().(*types.Basic)
	return ok && basic.Info()&types.IsFloat != 0
}
