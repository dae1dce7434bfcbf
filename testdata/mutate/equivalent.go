package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// equivalent holds the faults that change nothing that a test could see, by what they
// say, with the reason for each.
type equivalent map[string]string

// says is a fault as equivalent.txt lists it.
func (s site) says() string {
	at := s.name
	if s.function != "" {
		at += " " + s.function
	}
	return at + "\n- " + s.was + "\n+ " + s.is
}

// readEquivalent reads the list. Lines that begin with # are comments; an empty line
// ends an entry of four lines: file and function, the right line, the faulty one, why.
func readEquivalent(path string) (equivalent, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	known := equivalent{}
	var entry []string
	for i, line := range append(strings.Split(string(text), "\n"), "") {
		if strings.HasPrefix(line, "#") {
			continue
		}
		if line = strings.TrimSpace(line); line != "" {
			entry = append(entry, line)
			continue
		}
		if len(entry) == 0 {
			continue
		}
		if len(entry) != 4 || !strings.HasPrefix(entry[1], "- ") || !strings.HasPrefix(entry[2], "+ ") {
			return nil, fmt.Errorf("%s: before line %d: want four lines: file and function, - right, + faulty, why", path, i+1)
		}
		known[strings.Join(entry[:3], "\n")] = entry[3]
		entry = nil
	}
	return known, nil
}

// unused lists the entries that no place in these packages matches: those for their
// files, and those for files that are gone.
func (e equivalent) unused(root string, lists []placed) []string {
	files, held := map[string]bool{}, map[string]bool{}
	for _, l := range lists {
		for _, s := range l.sites {
			files[s.name] = true
			held[s.says()] = true
		}
	}
	var stale []string
	for says := range e {
		name, _, _ := strings.Cut(says, "\n")
		name, _, _ = strings.Cut(name, " ")
		if _, err := os.Stat(filepath.Join(root, filepath.FromSlash(name))); (files[name] || err != nil) && !held[says] {
			stale = append(stale, says)
		}
	}
	return stale
}
