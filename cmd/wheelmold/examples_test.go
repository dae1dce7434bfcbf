package main

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
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
holds out assembly.3mf base.stl hub.stl job.toml lid.stl manifest.json %[2]s report.html shell-a.stl shell-b.stl
`

// onBed are the files of examples whose pieces are printed; those of milled ones lie
// in one.
var onBed = map[string]string{"wren.toml": "plate-1.3mf plate-2.3mf"}

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
		if err := os.WriteFile(script, fmt.Appendf(nil, exampleScript, base, cmp.Or(onBed[base], "pieces.3mf"), unsaid), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	p := scriptParams(t, dir)
	p.UpdateScripts = false
	testscript.Run(t, p)
}
