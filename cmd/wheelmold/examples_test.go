package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// exampleScript builds one example; every example in the folder gets its own.
const exampleScript = `# The example %[1]s checks without a warning and builds.
exits 0 wheelmold check $EXAMPLES/%[1]s
! stderr %[3]s
exits 0 wheelmold build $EXAMPLES/%[1]s -o out --tolerance 0.05mm
! stderr %[3]s
holds out %[2]s
`

// onBed are the files of examples whose pieces are printed; those of milled ones lie
// in one, and have drawings.
var onBed = map[string]string{"wren.toml": "plate-1.3mf plate-2.3mf"}

// inFolder lists what is in the folder of an example.
func inFolder(base string) string {
	files := []string{"assembly.3mf", "assembly.step", "job.toml", "manifest.json", "report.html"}
	kinds := []string{".stl", ".step"}
	if bed := onBed[base]; bed != "" {
		files = append(files, strings.Fields(bed)...)
	} else {
		files = append(files, "pieces.3mf", "drawings.pdf")
	}
	for _, piece := range []string{"base", "shell-a", "shell-b", "lid", "hub"} {
		for _, k := range kinds {
			files = append(files, piece+k)
		}
	}
	slices.Sort(files)
	return strings.Join(files, " ")
}

func TestExamples(t *testing.T) {
	jobs, err := filepath.Glob("../../examples/*.toml")
	if err != nil || len(jobs) == 0 {
		t.Fatalf("no examples: %v", err)
	}
	if testing.Short() { // the others take minutes under the race detector
		jobs = []string{"../../examples/wren.toml"}
	}
	dir := t.TempDir()
	for _, job := range jobs {
		base := filepath.Base(job)
		script := filepath.Join(dir, strings.TrimSuffix(base, ".toml")+".txtar")
		unsaid := "."
		if onBed[base] != "" { // printers are warned of what hangs over, whatever the job
			unsaid = "error"
		}
		if err := os.WriteFile(script, fmt.Appendf(nil, exampleScript, base, inFolder(base), unsaid), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	p := scriptParams(t, dir)
	p.UpdateScripts = false
	testscript.Run(t, p)
}
