package main

import (
	"encoding/json"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"wheelmold/mold/report/web"
)

// systems are those that the program is released for. What is linked differs.
var systems = []string{"linux", "darwin", "windows"}

// goList asks the go command what it links into the program on a system, without cgo as
// it is released, and returns the lines, each once.
func goList(t *testing.T, system, format string) []string {
	t.Helper()
	list := exec.Command("go", "list", "-deps", "-f", format, ".")
	list.Env = append(os.Environ(), "GOOS="+system, "CGO_ENABLED=0")
	list.Stderr = os.Stderr
	out, err := list.Output()
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.FieldsFunc(string(out), func(r rune) bool { return r == '\n' })
	slices.Sort(lines)
	return slices.Compact(lines)
}

// supplied is a row of testdata/licenses.txt.
type supplied struct {
	version, license string
	files            []string
}

// listed reads testdata/licenses.txt, by kind and name.
func listed(t *testing.T) map[string]supplied {
	t.Helper()
	text, err := os.ReadFile("../../testdata/licenses.txt")
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string]supplied{}
	for line := range strings.Lines(string(text)) {
		f := strings.Fields(line)
		if len(f) == 0 || f[0] == "#" {
			continue
		}
		if len(f) < 4 {
			t.Fatalf("%q: want kind, name, version and license", line)
		}
		rows[f[0]+" "+f[1]] = supplied{f[2], f[3], f[4:]}
	}
	return rows
}

// compatible are the licenses of which a program under the BSD license may be made whole
// and given away as a binary, if their texts go with it. The MPL is known, and not among
// them: it asks for more.
var compatible = []string{"MIT", "BSD-2-Clause", "BSD-3-Clause", "ISC", "Apache-2.0"}

// wordings are what only one license says, in lower case with single blanks.
var wordings = []struct{ license, says, never string }{
	{"MIT", "permission is hereby granted, free of charge, to any person obtaining a copy", "the above copyright notice(s)"},
	{"BSD-2-Clause", "redistribution and use in source and binary forms, with or without modification, are permitted", "neither the name"},
	{"BSD-3-Clause", "neither the name", "all advertising materials"},
	{"ISC", "permission to use, copy, modify, and/or distribute this software for any purpose", ""},
	{"Apache-2.0", "apache license version 2.0, january 2004", ""},
	{"MPL-2.0", "mozilla public license version 2.0", ""},
	{"GPL", "gnu general public license", "mozilla public license"}, // which names it
	{"BSD-4-Clause", "all advertising materials", ""},
}

// licenses tells which licenses a text holds by their wording.
func licenses(text string) (found []string) {
	plain := strings.Join(strings.Fields(strings.ToLower(text)), " ")
	for _, w := range wordings {
		if strings.Contains(plain, w.says) && (w.never == "" || !strings.Contains(plain, w.never)) {
			found = append(found, w.license)
		}
	}
	return found
}

func TestLicensesByTheirWording(t *testing.T) {
	const bsd = "Redistribution and use in source and\n\tbinary forms, with or without modification, are permitted provided"
	for text, want := range map[string]string{
		bsd:                        "BSD-2-Clause",
		bsd + ". Neither the name": "BSD-3-Clause",
		bsd + ". All advertising materials. Neither the name":                              "BSD-4-Clause",
		"Apache License\n  Version 2.0, January 2004":                                      "Apache-2.0",
		"Mozilla Public License Version 2.0 GNU General Public License":                    "MPL-2.0",
		"GNU General Public License, Version 3":                                            "GPL",
		"Permission to use, copy, modify, and/or distribute this software for any purpose": "ISC",
		"Permission is hereby granted, free of charge, to any person obtaining a copy":     "MIT",
		"All rights reserved.": "",
	} {
		if got := strings.Join(licenses(text), " "); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
	own, err := os.ReadFile("../../LICENSE")
	if err != nil {
		t.Fatal(err)
	}
	if got := licenses(string(own)); !slices.Equal(got, []string{"BSD-3-Clause"}) {
		t.Errorf("the program's own: %q", got)
	}
}

// terms are the names of files that may change what a license allows.
var terms = regexp.MustCompile(`(?i)licen[cs]e|copying|notice|patents|third.?party`)

// What is linked on any system is listed, nothing else is, each at its exact version, and
// the license is what its text says.
func TestLicensesOfWhatIsLinked(t *testing.T) {
	rows := listed(t)
	linked := map[string]string{} // folder by module and version
	for _, system := range systems {
		for _, line := range goList(t, system, `{{with .Module}}{{if not .Main}}go {{.Path}}|{{.Version}}|{{with .Replace}}replaced{{end}}|{{.Dir}}{{end}}{{end}}`) {
			f := strings.SplitN(line, "|", 4)
			if f[2] != "" {
				t.Errorf("%s is replaced in go.mod", f[0])
			}
			row, ok := rows[f[0]]
			if !ok || row.version != f[1] {
				t.Errorf("%s %s is linked on %s, and testdata/licenses.txt has %q", f[0], f[1], system, row.version)
			}
			linked[f[0]] = f[3]
		}
	}
	if len(linked) < 10 {
		t.Fatalf("only %d modules listed", len(linked))
	}
	for name, row := range rows {
		dir, ok := linked[name]
		if !slices.Contains(compatible, row.license) {
			t.Errorf("%s: %s does not go with the program's license", name, row.license)
		}
		if !strings.HasPrefix(name, "go ") {
			continue
		}
		if !ok {
			t.Errorf("%s is listed, and not linked on %v", name, systems)
			continue
		}
		checkTerms(t, name, dir, row)
	}
}

// checkTerms compares what lies at the top of a module with its row.
func checkTerms(t *testing.T, name, dir string, row supplied) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var files []string
	for _, e := range entries {
		if terms.MatchString(e.Name()) && !strings.HasSuffix(e.Name(), ".go") {
			files = append(files, e.Name())
		}
	}
	if !slices.Equal(files, row.files) {
		t.Errorf("%s: the terms are in %q, listed are %q", name, files, row.files)
		return
	}
	text, err := os.ReadFile(filepath.Join(dir, files[0]))
	if err != nil {
		t.Fatal(err)
	}
	if got := licenses(string(text)); !slices.Equal(got, []string{row.license}) {
		t.Errorf("%s: %s reads like %q, listed is %s", name, files[0], got, row.license)
	}
}

// lock is what a package-lock.json says.
type lock struct {
	Packages map[string]struct {
		Version, Integrity, License, Resolved string
		Dev                                   bool
	}
}

// exact is one version, and no range.
var exact = regexp.MustCompile(`^\d+\.\d+\.\d+$`)

func readJSON(t *testing.T, path string, into any) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, into); err != nil {
		t.Fatalf("%s: %v", path, err)
	}
}

// npm's packages come at one version each, with the hash of what is fetched.
func TestNpmVersionsAreExact(t *testing.T) {
	for _, dir := range []string{"../../mold/report/web", "../../testdata/referee"} {
		var wanted struct{ Dependencies, DevDependencies map[string]string }
		var locked lock
		readJSON(t, filepath.Join(dir, "package.json"), &wanted)
		readJSON(t, filepath.Join(dir, "package-lock.json"), &locked)
		if len(wanted.Dependencies) == 0 {
			t.Errorf("%s: no dependency", dir)
		}
		maps.Copy(wanted.Dependencies, wanted.DevDependencies)
		for name, version := range wanted.Dependencies {
			if got := locked.Packages["node_modules/"+name].Version; !exact.MatchString(version) || got != version {
				t.Errorf("%s: package.json wants %s %s, locked is %q", dir, name, version, got)
			}
		}
		for name, p := range locked.Packages {
			if name != "" && (!exact.MatchString(p.Version) || !strings.HasPrefix(p.Integrity, "sha512-")) {
				t.Errorf("%s: %s is locked at %q, integrity %q", dir, name, p.Version, p.Integrity)
			}
		}
	}
}

// What npm puts into the page is listed, and the page says so itself.
func TestLicensesOfThePage(t *testing.T) {
	var locked lock
	readJSON(t, "../../mold/report/web/package-lock.json", &locked)
	rows := listed(t)
	bundled := map[string]bool{}
	for path, p := range locked.Packages {
		if path == "" || p.Dev {
			continue
		}
		name := "npm " + strings.TrimPrefix(path, "node_modules/")
		bundled[name] = true
		if row := rows[name]; row.version != p.Version || row.license != p.License {
			t.Errorf("%s %s (%s) is in the page, and testdata/licenses.txt has %q (%s)", name, p.Version, p.License, row.version, row.license)
		}
	}
	for name := range rows {
		if strings.HasPrefix(name, "npm ") && !bundled[name] {
			t.Errorf("%s is listed, and not in the page", name)
		}
	}
	head, _, _ := strings.Cut(web.Viewer, "*/")
	if got := licenses(strings.ReplaceAll(head, "\n *", "\n")); !slices.Equal(got, []string{"MIT"}) {
		t.Errorf("the page's script begins with %q", got)
	}
}
