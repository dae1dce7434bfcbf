package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// result is how one way did on one solid.
type result struct {
	maker
	out   string
	first float64   // seconds of the first run of a process
	warm  []float64 // seconds of later ones
	once  ran       // the process of that one, for its memory
	measured
}

// time is the usual one.
func (r *result) time() float64 { return median(r.warm) }

// beside makes each solid every way and prints a table of each.
func (b *bench) beside(w *strings.Builder) error {
	for _, s := range solids {
		fmt.Fprintln(os.Stderr, "bench: the", s)
		list, err := b.makeAll(s)
		if err != nil {
			return err
		}
		if err := b.measureAll(s, list); err != nil {
			return err
		}
		fmt.Fprintf(w, "\nThe %s; times are medians of warm runs in %d processes:\n\n", s, b.rounds)
		printBeside(w, list)
	}
	return nil
}

// makeAll lets the ways take turns: once for first time and memory, then for warm times.
func (b *bench) makeAll(solid string) ([]*result, error) {
	var list []*result
	for i, m := range makers(solid) {
		if m.without == "" || !slices.Contains(b.without, m.without) {
			list = append(list, &result{maker: m, out: filepath.Join(b.scratch, strconv.Itoa(i)+".f64")})
		}
	}
	for round := range b.rounds + 1 {
		for _, r := range list {
			runs := r.runs
			if round == 0 {
				runs = 1
			}
			if err := b.makeOnce(r, solid, runs, round == 0); err != nil {
				return nil, err
			}
		}
	}
	return list, nil
}

// makeOnce runs one process and takes its times.
func (b *bench) makeOnce(r *result, solid string, runs int, first bool) error {
	p, err := b.runProcess(r.command(b, solid, r.fine, runs, r.out))
	if err != nil {
		return err
	}
	var times []float64
	for _, f := range strings.Fields(p.said) {
		x, err := strconv.ParseFloat(f, 64)
		if err != nil {
			return fmt.Errorf("%s printed %q", r.name, p.said)
		}
		times = append(times, x)
	}
	if len(times) != runs {
		return fmt.Errorf("%s printed %d times of %d runs", r.name, len(times), runs)
	}
	switch {
	case first:
		r.first, r.once = times[0], p
	case runs == 1:
		r.warm = append(r.warm, times[0])
	default:
		r.warm = append(r.warm, times[1:]...)
	}
	return nil
}

// measureAll has the meshes of a solid measured, by a process that may grow.
func (b *bench) measureAll(solid string, list []*result) error {
	args := []string{b.self, "measure", solid}
	for _, r := range list {
		args = append(args, r.out)
	}
	p, err := b.runProcess(args)
	if err != nil {
		return err
	}
	d := json.NewDecoder(strings.NewReader(p.said))
	for _, r := range list {
		if err := d.Decode(&r.measured); err != nil {
			return err
		}
	}
	return nil
}

// measureFiles is that process.
func measureFiles(solid string, files []string) error {
	t, err := truthOf(solid)
	if err != nil {
		return err
	}
	e := json.NewEncoder(os.Stdout)
	for _, f := range files {
		s, err := readSoup(f)
		if err != nil {
			return err
		}
		if err := e.Encode(measure(t, s)); err != nil {
			return err
		}
	}
	return nil
}

func printBeside(w *strings.Builder, list []*result) {
	w.WriteString("| way | | time, s | of ours | first, s | memory, MB | triangles | off surface, mm | off edges, mm | volume off | sides not closed |\n")
	w.WriteString("|---|---|--:|--:|--:|--:|--:|--:|--:|--:|--:|\n")
	ours := list[0].time()
	for _, r := range list {
		fmt.Fprintf(w, "| %s | %s | %s | %s | %s | %s | %s | %s | %s | %.0e | %s |\n", r.name, r.detail,
			digits(r.time()), digits(r.time()/ours), digits(r.first), memory(r.once), grouped(r.Triangles),
			digits(max(r.Off, r.Missed)), digits(r.Edge), r.Volume, grouped(r.Faults))
	}
}

// memory prints the peak of a process, MB.
func memory(r ran) string {
	if r.atMost {
		return fmt.Sprintf("≤ %.0f", r.peak)
	}
	return fmt.Sprintf("%.0f", r.peak)
}

// digits prints two significant digits, without an exponent.
func digits(x float64) string {
	if x == 0 {
		return "0"
	}
	r, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', 1, 64), 64)
	if err != nil {
		return strconv.FormatFloat(x, 'g', 2, 64)
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

// grouped prints a whole number with its thousands apart.
func grouped(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + " " + s[i:]
	}
	return s
}
