// Command bench measures the meshes and times the commands, beside other ways to the same
// solids, in one run, and prints the result as the tables of DEVELOPERS.md.
//
//	go run ./testdata/bench                  # prints the tables; some minutes
//	go run ./testdata/bench -write           # puts them into DEVELOPERS.md
//	go run ./testdata/bench -without occt    # where a yardstick is not installed
//	go run ./testdata/bench -check           # every way once, coarsely; a minute
//
// The ways take turns, each in a process of its own, so that what else the machine does
// slows all of them, and memory is the peak of that process. Every mesh is measured by the
// same measure, which asks no mesher (truth.go). Volumes are a closed form or come from
// straight lines through the tree of solids, which no way to a mesh asks for (volume.go).
// But what it knows of faces and edges it shares with ours: it asks the tree on which side
// of a surface material lies, as the exact boundary does, and takes from that boundary where
// edges run. A fault there would not show in "off surface" and "off edges" of ours. It would
// in those of mesh and B-rep booleans, which share no code with it; and tests hold the edges
// of the reference solid to their closed form. A tool that is missing is an error. It runs on Linux alone: peaks of memory are told in another way elsewhere.
//
// It needs what testdata/referee/run needs of node and OCCT.
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
)

func main() {
	var err error
	if len(os.Args) > 1 && slices.Contains([]string{"make", "measure", "scale"}, os.Args[1]) {
		err = part(os.Args[1], os.Args[2:])
	} else {
		err = whole()
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "bench: error:", err)
		os.Exit(1)
	}
}

// part is one of the processes that the bench starts.
func part(word string, args []string) error {
	switch word {
	case "make":
		return makeMesh(args)
	case "measure":
		return measureFiles(args[0], args[1:])
	}
	return scale(os.Stdout, args[0])
}

// bench is one run.
type bench struct {
	self    string // this program
	scratch string
	rounds  int
	without []string
	ctx     context.Context
}

func whole() error {
	write := flag.Bool("write", false, "put the tables into DEVELOPERS.md instead of printing them")
	without := flag.String("without", "", "yardsticks to leave out, of manifold,occt")
	only := flag.Bool("check", false, "make the reference solid once by every way, hold its volume to the closed form, and print no tables")
	rounds := flag.Int("rounds", 3, "turns of each way; of commands two more")
	flag.Parse()
	b := &bench{rounds: *rounds}
	for w := range strings.SplitSeq(*without, ",") {
		if w == "" {
			continue
		}
		if w != "manifold" && w != "occt" {
			return fmt.Errorf("no yardstick %q: manifold or occt", w)
		}
		b.without = append(b.without, w)
	}
	if flag.NArg() > 0 || b.rounds < 1 {
		return fmt.Errorf("takes no arguments, and at least one round")
	}
	if *only && (*write || len(b.without) > 0) {
		return fmt.Errorf("-check writes nothing and leaves nothing out")
	}
	var stop context.CancelFunc
	b.ctx, stop = signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	steps := []func(*strings.Builder) error{b.machine, b.beside, b.scaling, b.commands}
	if *only {
		steps = []func(*strings.Builder) error{b.check}
	}
	text, err := b.run(steps)
	if err != nil {
		return err
	}
	if !*write {
		_, err = os.Stdout.WriteString(text)
		return err
	}
	return replaceFigures("DEVELOPERS.md", text)
}

// run makes everything ready and returns what the steps print.
func (b *bench) run(steps []func(*strings.Builder) error) (string, error) {
	root, err := exec.Command("go", "env", "GOMOD").Output()
	if err != nil {
		return "", fmt.Errorf("go env: %w", err)
	}
	if err := os.Chdir(filepath.Dir(strings.TrimSpace(string(root)))); err != nil {
		return "", err
	}
	if b.self, err = os.Executable(); err != nil {
		return "", err
	}
	if b.scratch, err = os.MkdirTemp("", "bench"); err != nil {
		return "", err
	}
	defer os.RemoveAll(b.scratch)
	if err := b.prepare(); err != nil {
		return "", err
	}
	var out strings.Builder
	for _, step := range steps {
		if err := step(&out); err != nil {
			return "", err
		}
	}
	return out.String(), nil
}

// machine says how many cores there are and how busy they are.
func (b *bench) machine(w *strings.Builder) error {
	load, err := os.ReadFile("/proc/loadavg")
	if err != nil {
		return err
	}
	return surroundings(w, runtime.NumCPU(), string(load))
}

// surroundings says on what the figures were made: who reads them must know whether the
// machine was quiet. load is the kernel's line about it, the last minute first.
func surroundings(w io.Writer, cores int, load string) error {
	var x float64
	if _, err := fmt.Sscan(load, &x); err != nil {
		return fmt.Errorf("load average %q: %w", load, err)
	}
	fmt.Fprintf(w, "\nOn %d cores, at a load average of %.1f as it began", cores, x)
	if x > 0.25*float64(cores) {
		fmt.Fprint(w, ": other work went on, so that times and their ratios are rough")
	}
	_, err := fmt.Fprintln(w, ".")
	return err
}

// prepare builds the yardstick, the command and the programs of the solids.
func (b *bench) prepare() error {
	build := exec.CommandContext(b.ctx, "go", "build", "-trimpath", "-ldflags=-s", "-o", filepath.Join(b.scratch, "wheelmold"), "./cmd/wheelmold")
	if out, err := build.CombinedOutput(); err != nil {
		return fmt.Errorf("go build: %w: %s", err, out)
	}
	if !slices.Contains(b.without, "manifold") {
		if _, err := os.Stat(filepath.Join("testdata", "referee", "node_modules", "manifold-3d")); err != nil {
			return fmt.Errorf("no manifold-3d: run npm ci in testdata/referee, or -without manifold: %w", err)
		}
	}
	if !slices.Contains(b.without, "occt") {
		args := strings.Fields("-std=c++17 -O2 -o " + filepath.Join(b.scratch, "brep") + " testdata/bench/yardstick/brep.cpp -isystem /usr/include/opencascade " +
			"-lTKMesh -lTKBO -lTKBool -lTKPrim -lTKTopAlgo -lTKGeomAlgo -lTKBRep -lTKGeomBase -lTKG3d -lTKG2d -lTKMath -lTKernel")
		if out, err := exec.CommandContext(b.ctx, "g++", args...).CombinedOutput(); err != nil {
			return fmt.Errorf("no OCCT: install libocct-data-exchange-dev, or -without occt: %w: %s", err, out)
		}
	}
	for _, s := range solids {
		if err := b.writeProgram(s); err != nil {
			return err
		}
	}
	return nil
}

// program is the file with the tree of a solid.
func (b *bench) program(solid string) string { return filepath.Join(b.scratch, solid+".tree") }

func (b *bench) writeProgram(solid string) error {
	_, root, err := build(solid)
	if err != nil {
		return err
	}
	var text strings.Builder
	if err := writeProgram(&text, root); err != nil {
		return err
	}
	return os.WriteFile(b.program(solid), []byte(text.String()), 0o600)
}

// Marks in DEVELOPERS.md between which the tables stand.
const begin, end = "<!-- figures: go run ./testdata/bench -write -->\n", "<!-- end of figures -->\n"

// replaceFigures puts text between the marks of a file.
func replaceFigures(path, text string) error {
	old, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	before, rest, ok := strings.Cut(string(old), begin)
	_, after, also := strings.Cut(rest, end)
	if !ok || !also {
		return fmt.Errorf("%s has no place for figures: no line %q with %q after it", path, strings.TrimSpace(begin), strings.TrimSpace(end))
	}
	return os.WriteFile(path, []byte(before+begin+text+end+after), 0o644)
}
