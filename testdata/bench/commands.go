package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// examples in the order of their size.
var examples = []string{"wren", "kestrel", "albatross"}

// commands times the program itself, as people run it.
func (b *bench) commands(w *strings.Builder) error {
	fmt.Fprintf(w, "\nWhole commands, each a process of its own: seconds, and peak memory in MB, medians of %d runs:\n\n| example | check | build | pour | shop |\n|---|--:|--:|--:|--:|\n", b.rounds+2)
	program := filepath.Join(b.scratch, "wheelmold")
	words := []string{"check", "build", "pour", "shop"}
	for _, name := range examples {
		fmt.Fprintln(os.Stderr, "bench: the commands on", name)
		job := filepath.Join("examples", name+".toml")
		times, peaks := make([][]float64, len(words)), make([][]float64, len(words))
		for range b.rounds + 2 {
			for i, word := range words {
				args, folder := []string{program, word, job}, ""
				if word == "build" || word == "shop" {
					folder = filepath.Join(b.scratch, "made")
					args = append(args, "-o", folder)
				}
				r, err := b.runProcess(args)
				if err != nil {
					return err
				}
				if folder != "" {
					if err := os.RemoveAll(folder); err != nil {
						return err
					}
				}
				times[i], peaks[i] = append(times[i], r.seconds), append(peaks[i], r.peak)
			}
		}
		fmt.Fprint(w, "| ", name)
		for i := range words {
			fmt.Fprintf(w, " | %s, %s", strconv.FormatFloat(median(times[i]), 'f', 2, 64), strconv.FormatFloat(median(peaks[i]), 'f', 0, 64))
		}
		w.WriteString(" |\n")
	}
	return nil
}
