// Command mutate plants faults in the code, one at a time, and reports which of them
// the tests catch. A fault is another operator, constant or sign in one place of one
// file: a comparison of integers goes wrong by one, one of real numbers turns around.
// It stands in an overlay that the go command is given, so that no file of the
// module changes. The same code and seed give the same faults.
//
//	go run ./testdata/mutate -n 120
//	go run ./testdata/mutate -n 12 ./mesh/stl ./params
//
// A fault is caught if the tests of its package fail or do not end in time, or, with
// -importers, those of a package that imports it. What does not compile is not counted,
// nor is what equivalent.txt lists with its reason; the next fault of the package takes
// its place. The exit code is 1 if fewer than -least percent are caught.
//
// It does not tell whether a test says what is wrong, and a fault that only the tests of
// packages further up would catch counts as survived.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"regexp"
	"strings"
	"time"
)

// settings are what the command line says.
type settings struct {
	faults    int            // how many to plant
	seed      int            // which ones
	least     float64        // percent of them that tests must catch
	importers bool           // whether the tests of importers are a second try
	limit     time.Duration  // the longest run of one package's tests
	grace     time.Duration  // what a run may take besides some times as long as without a fault
	skip      *regexp.Regexp // import paths of packages to leave out
	patterns  []string       // packages to plant faults in
}

func main() {
	var s settings
	flag.IntVar(&s.faults, "n", 120, "how many faults to plant, at least one in each package")
	flag.IntVar(&s.seed, "seed", 1, "another seed plants other faults")
	flag.Float64Var(&s.least, "least", 95, "percent of the faults that must be caught")
	flag.BoolVar(&s.importers, "importers", false, "try what survives with the tests of the packages that import it, too")
	flag.DurationVar(&s.grace, "grace", 30*time.Second, "how much longer than four times as without a fault tests may take")
	flag.DurationVar(&s.limit, "limit", 20*time.Minute, "longest run of one package's tests")
	// Packages named so serve tests alone; the page's generator is held by comparing its
	// output with what is committed, outside the go command.
	skip := flag.String("skip", "test$|/generate$", "leave out the packages whose import path matches")
	flag.Parse()
	var err error
	if s.skip, err = regexp.Compile(*skip); err != nil {
		fatal(err)
	}
	if s.patterns = flag.Args(); len(s.patterns) == 0 {
		s.patterns = []string{"./..."}
	}
	if err := boundMemory(); err != nil {
		fatal(err)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	enough, err := mutate(ctx, s, os.Stdout)
	if err != nil {
		fatal(err)
	}
	if !enough {
		os.Exit(1)
	}
}

func fatal(err error) {
	fmt.Fprintln(os.Stderr, "mutate: error:", err)
	os.Exit(2)
}

// mutate plants the faults, tells what becomes of each, and reports whether enough are
// caught.
func mutate(ctx context.Context, s settings, w io.Writer) (bool, error) {
	packages, err := list("./...")
	if err != nil {
		return false, err
	}
	chosen, err := list(s.patterns...)
	if err != nil {
		return false, err
	}
	lists, left, err := findAll(chosen, s)
	if err != nil {
		return false, err
	}
	for _, l := range left {
		fmt.Fprintln(w, "left out:", l)
	}
	root, err := moduleRoot()
	if err != nil {
		return false, err
	}
	known, err := readEquivalent(filepath.Join(root, "testdata", "mutate", "equivalent.txt"))
	if err != nil {
		return false, err
	}
	if stale := known.unused(root, lists); len(stale) > 0 {
		return false, fmt.Errorf("equivalent.txt lists what the code does not hold:\n%s", strings.Join(stale, "\n"))
	}
	scratch, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return false, err
	}
	defer os.RemoveAll(scratch)
	t := &trial{settings: s, packages: packages, known: known, scratch: scratch, root: root, w: w, usual: map[string]time.Duration{}}
	counts := apportion(sizes(lists), s.faults)
	for i, l := range lists {
		if err := t.plant(ctx, l, counts[i]); err != nil {
			return false, err
		}
	}
	return t.conclude(), nil
}

// findAll finds the places for faults in each package, and tells which have none or are
// left out.
func findAll(packages []goPackage, s settings) (lists []placed, left []string, err error) {
	e, err := exported(s.patterns...)
	if err != nil {
		return nil, nil, err
	}
	for _, p := range packages {
		if s.skip.MatchString(p.ImportPath) {
			left = append(left, p.ImportPath+", as -skip says")
			continue
		}
		sites, err := find(p, e)
		if err != nil {
			return nil, nil, err
		}
		if len(sites) == 0 {
			left = append(left, p.ImportPath+", which holds no place for a fault")
			continue
		}
		lists = append(lists, placed{p, rank(sites, s.seed)})
	}
	if len(lists) == 0 {
		return nil, nil, errors.New("no place for a fault in these packages")
	}
	return lists, left, nil
}
