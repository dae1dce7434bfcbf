package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// goPackage is what the go command tells of a package.
type goPackage struct {
	ImportPath, Dir, Export            string
	GoFiles, TestGoFiles, XTestGoFiles []string
	Imports, TestImports, XTestImports []string
	Deps                               []string
	Module                             struct{ Dir string }
}

// tested tells whether a package has tests of its own.
func (p goPackage) tested() bool { return len(p.TestGoFiles)+len(p.XTestGoFiles) > 0 }

// list asks the go command for packages.
func list(patterns ...string) ([]goPackage, error) {
	out, err := exec.Command("go", append([]string{"list", "-json"}, patterns...)...).Output()
	if err != nil {
		return nil, said("go list", err)
	}
	var packages []goPackage
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p goPackage
		if err := d.Decode(&p); err == io.EOF {
			return packages, nil
		} else if err != nil {
			return nil, err
		}
		packages = append(packages, p)
	}
}

// moduleRoot is the folder of go.mod.
func moduleRoot() (string, error) {
	out, err := exec.Command("go", "env", "GOMOD").Output()
	if err != nil {
		return "", said("go env", err)
	}
	return filepath.Dir(strings.TrimSpace(string(out))), nil
}

// said adds what a program wrote about its failure.
func said(what string, err error) error {
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		return fmt.Errorf("%s: %w: %s", what, err, bytes.TrimSpace(exit.Stderr))
	}
	return fmt.Errorf("%s: %w", what, err)
}

// importers lists the tested packages that import one directly, or whose tests do, those
// with the fewest dependencies first: their tests tend to be the quickest.
func importers(packages []goPackage, of string) []string {
	var found []goPackage
	for _, p := range packages {
		if p.ImportPath != of && p.tested() && slices.Contains(slices.Concat(p.Imports, p.TestImports, p.XTestImports), of) {
			found = append(found, p)
		}
	}
	slices.SortStableFunc(found, func(a, b goPackage) int { return len(a.Deps) - len(b.Deps) })
	var paths []string
	for _, p := range found {
		paths = append(paths, p.ImportPath)
	}
	return paths
}
