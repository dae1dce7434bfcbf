package export

import (
	"encoding/json"
	"io"

	"wheelmold/mold/export/outdir"
)

// ManifestVersion is the version of the manifest's form; within one version
// keys are only added.
const ManifestVersion = 1

// Manifest tells what a folder was made from and what it holds.
type Manifest struct {
	Version   int            `json:"version"`
	Program   string         `json:"program"`
	Job       JobSource      `json:"job"`
	Settings  []string       `json:"settings"` // "key=value", in their order
	Tolerance float64        `json:"tolerance_mm"`
	Pieces    []string       `json:"pieces"`
	Files     []outdir.Entry `json:"files"` // all but the manifest
}

// JobSource is the job file that a folder was made from.
type JobSource struct {
	Name   string `json:"name"`
	File   string `json:"file"`
	SHA256 string `json:"sha256"` // of its bytes
}

func (m *Manifest) write(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(m)
}
